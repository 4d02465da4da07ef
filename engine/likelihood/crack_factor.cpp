#include "likelihood/crack_factor.h"

#include <algorithm>
#include <cmath>

namespace lagline {

BaseDamage base_damage_factor(const GridTable& table, std::uint8_t severity,
                              const InspectionCounts& counts) {
    constexpr double most_that_count = 6.0;
    BaseDamage least{table.at(severity, 0).value, 0};
    double lower = 0.0;  // inspections of the category below, with what they took from below
    // InspectionCounts run from A to D, the columns of the table from D to A.
    for (std::size_t step = 0; step < telling_categories; ++step) {
        const double equivalent = counts[telling_categories - 1 - step] + std::floor(lower / 2.0);
        lower = equivalent;
        const auto times = static_cast<std::size_t>(std::min(equivalent, most_that_count));
        if (times == 0) continue;
        const auto column = static_cast<std::uint8_t>(1 + (times - 1) * telling_categories + step);
        const double value = table.at(severity, column).value;
        if (value < least.value) least = {value, column};
    }
    return least;
}

double aged_damage_factor(double base, double age_years, double exponent, double cap) {
    return std::min(base * std::pow(std::max(age_years, 1.0), exponent), cap);  // eq. 41
}

}  // namespace lagline
