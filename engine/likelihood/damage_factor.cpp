#include "likelihood/damage_factor.h"

#include "likelihood/normal.h"

namespace lagline {

void wall_fraction(ConstColumn rate_mm_per_year, ConstColumn exposed_years, ConstColumn wall_mm,
                   Column fraction) {
    fraction = rate_mm_per_year * exposed_years / wall_mm;  // eq. 8
}

void reliability_index(ConstColumn fraction, ConstColumn ratio, double state,
                       const Scatter& scatter, Column index) {
    const auto lost = state * fraction;
    const auto left = 1.0 - lost;
    index = (left - ratio) / (lost.square() * (scatter.thinning * scatter.thinning) +
                              left.square() * (scatter.flow_stress * scatter.flow_stress) +
                              ratio.square() * (scatter.pressure * scatter.pressure))
                                 .sqrt();  // eq. 17
}

void damage_factor(const std::array<ColumnRef, 3>& probability,
                   const std::array<ColumnRef, 3>& index, double base, Column damage) {
    Numbers failing(damage.size());
    damage.setZero();
    for (std::size_t k = 0; k < index.size(); ++k) {
        normal_cdf(-index[k], failing);
        damage += probability[k] * failing;
    }
    damage /= base;  // eq. 18
}

void probability_of_failure(ConstColumn frequency_per_year, double management_factor,
                            ConstColumn damage, double cap, Column per_year) {
    per_year = (frequency_per_year * management_factor * damage).min(cap);  // eq. 20
}

}  // namespace lagline
