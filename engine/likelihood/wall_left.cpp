#include "likelihood/wall_left.h"

#include <limits>

#include "likelihood/normal.h"

namespace lagline {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

}  // namespace

void expected_wall(ConstColumn wall_mm, ConstColumn wall_fraction,
                   const std::array<ColumnRef, damage_states>& states,
                   const std::array<double, damage_states>& factors, Column left_mm) {
    left_mm.setZero();
    for (std::size_t k = 0; k < damage_states; ++k) {
        left_mm += states[k] * wall_mm * (1.0 - factors[k] * wall_fraction).max(0.0);  // eq. 56
    }
}

void below_minimum(ConstColumn wall_mm, ConstColumn wall_fraction, ConstColumn minimum_mm,
                   const std::array<ColumnRef, damage_states>& states,
                   const std::array<double, damage_states>& factors, double cov_thinning,
                   Column probability) {
    const Numbers spare_mm = wall_mm - minimum_mm;
    Numbers below(wall_mm.size());
    probability.setZero();
    for (std::size_t k = 0; k < damage_states; ++k) {
        const Numbers loss_mm = factors[k] * wall_fraction * wall_mm;
        // Without a loss there is no scatter: the wall is above the minimum or it is not.
        const Numbers certain =
            (spare_mm < 0.0).select(Numbers::Constant(below.size(), endless), -endless);
        normal_cdf((loss_mm > 0.0).select((loss_mm - spare_mm) / (cov_thinning * loss_mm), certain),
                   below);
        probability += states[k] * below;  // eq. 57
    }
}

}  // namespace lagline
