#include "likelihood/wall_left.h"

#include "likelihood/normal.h"

namespace lagline {

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
    for (Eigen::Index i = 0; i < wall_mm.size(); ++i) {
        const double spare_mm = wall_mm[i] - minimum_mm[i];
        double sum = 0.0;
        for (std::size_t k = 0; k < damage_states; ++k) {
            const double loss_mm = factors[k] * wall_fraction[i] * wall_mm[i];
            const double below = loss_mm > 0.0
                                     ? normal_cdf((loss_mm - spare_mm) / (cov_thinning * loss_mm))
                                     : (spare_mm < 0.0 ? 1.0 : 0.0);
            sum += states[k][i] * below;  // eq. 57
        }
        probability[i] = sum;
    }
}

}  // namespace lagline
