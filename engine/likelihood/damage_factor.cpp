#include "likelihood/damage_factor.h"

#include <algorithm>

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
    constexpr Eigen::Index strip = 256;  // stays in the nearest memory
    std::array<double, strip> below{};
    std::array<double, strip> failing{};
    for (Eigen::Index begin = 0; begin < damage.size(); begin += strip) {
        const Eigen::Index size = std::min(strip, damage.size() - begin);
        const auto rows = [&](auto& values) { return Eigen::Map<Numbers>(values.data(), size); };
        for (std::size_t k = 0; k < index.size(); ++k) {
            rows(below) = -index[k].segment(begin, size);
            normal_cdf(rows(below), rows(failing));
            rows(failing) *= probability[k].segment(begin, size);
            if (k == 0) {
                damage.segment(begin, size) = rows(failing);
            } else {
                damage.segment(begin, size) += rows(failing);
            }
        }
        damage.segment(begin, size) /= base;  // eq. 18
    }
}

void probability_of_failure(ConstColumn frequency_per_year, double management_factor,
                            ConstColumn damage, double cap, Column per_year) {
    per_year = (frequency_per_year * management_factor * damage).min(cap);  // eq. 20
}

}  // namespace lagline
