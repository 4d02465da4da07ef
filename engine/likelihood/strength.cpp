#include "likelihood/strength.h"

#include <algorithm>
#include <limits>

namespace lagline {

void flow_stress(ConstColumn yield_mpa, ConstColumn tensile_mpa, ConstColumn joint_efficiency,
                 double factor, Column flow_mpa) {
    flow_mpa = (yield_mpa + tensile_mpa) / 2.0 * joint_efficiency * factor;  // eq. 9
}

void pressure_minimum(ConstColumn pressure_mpa, ConstColumn outside_mm, ConstColumn allowable_mpa,
                      ConstColumn joint_efficiency, ConstColumn wall_mm, ConstColumn allowance_mm,
                      double coefficient_y, Column needed_mm) {
    const auto thin = wall_mm < outside_mm / 6.0;
    const auto inside_mm = outside_mm - 2.0 * wall_mm;
    const auto thick_y =
        (inside_mm + 2.0 * allowance_mm) / (outside_mm + inside_mm + 2.0 * allowance_mm);
    const auto y = thin.select(coefficient_y, thick_y);
    needed_mm = pressure_mpa * outside_mm /
                (2.0 * (allowable_mpa * joint_efficiency + pressure_mpa * y));  // eq. 10
}

void strength_ratio_by_minimum(ConstColumn allowable_mpa, ConstColumn joint_efficiency,
                               ConstColumn flow_mpa, ConstColumn minimum_mm, ConstColumn wall_mm,
                               Column ratio) {
    ratio = allowable_mpa * joint_efficiency / flow_mpa * minimum_mm / wall_mm;  // eq. 12
}

void strength_ratio_by_pressure(ConstColumn pressure_mpa, ConstColumn outside_mm,
                                ConstColumn nominal_wall_mm, ConstColumn flow_mpa,
                                ConstColumn wall_mm, double shape, Column ratio) {
    ratio = pressure_mpa * (outside_mm - 2.0 * nominal_wall_mm) /
            (shape * flow_mpa * wall_mm);  // eq. 13
}

double greatest_working_pressure_mpa(double allowable_mpa, double joint_efficiency, double wall_mm,
                                     double outside_mm) {
    return 2.0 * allowable_mpa * joint_efficiency * std::max(0.0, wall_mm) / outside_mm;
}

double remaining_life_years(double wall_mm, double required_mm, double rate_mm_per_year) {
    if (wall_mm <= required_mm) return 0.0;
    if (rate_mm_per_year <= 0.0) return std::numeric_limits<double>::infinity();
    return (wall_mm - required_mm) / rate_mm_per_year;
}

}  // namespace lagline
