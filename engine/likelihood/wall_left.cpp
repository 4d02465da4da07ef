#include "likelihood/wall_left.h"

#include <algorithm>
#include <array>
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
    constexpr Eigen::Index strip = 256;  // stays in the nearest memory
    std::array<double, strip> deviations{};
    std::array<double, strip> below{};
    for (Eigen::Index begin = 0; begin < wall_mm.size(); begin += strip) {
        const Eigen::Index size = std::min(strip, wall_mm.size() - begin);
        const auto rows = [&](auto& values) { return Eigen::Map<Numbers>(values.data(), size); };
        const auto wall = wall_mm.segment(begin, size);
        const auto spare_mm = wall - minimum_mm.segment(begin, size);
        auto sum = probability.segment(begin, size);
        sum.setZero();
        for (std::size_t k = 0; k < damage_states; ++k) {
            const auto loss_mm = factors[k] * wall_fraction.segment(begin, size) * wall;
            // Without a loss there is no scatter: the wall is above the minimum or it is not.
            rows(deviations) = (loss_mm > 0.0)
                                   .select((loss_mm - spare_mm) / (cov_thinning * loss_mm),
                                           (spare_mm < 0.0)
                                               .select(Numbers::Constant(size, endless),
                                                       Numbers::Constant(size, -endless)));
            normal_cdf(rows(deviations), rows(below));
            sum += states[k].segment(begin, size) * rows(below);  // eq. 57
        }
    }
}

}  // namespace lagline
