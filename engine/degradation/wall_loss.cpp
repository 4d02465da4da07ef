#include "degradation/wall_loss.h"

namespace lagline {

void base_rate(const CurveTable& table, std::span<const ServiceLevels> levels,
               std::span<const std::uint8_t> driver, Column rate_mm_per_year,
               std::span<std::uint8_t> outside) {
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        // Samples of one segment follow one another, mostly at the same levels.
        if (i > 0 && driver[i] == driver[i - 1] && levels[i] == levels[i - 1]) {
            rate_mm_per_year[row] = rate_mm_per_year[row - 1];
            outside[i] = outside[i - 1];
            continue;
        }
        double rate = 0.0;
        for (const ServiceLevel& level : levels[i].all()) {
            const RuleHit hit = table.find(driver[i], level.metal_degc);
            rate += level.share * hit.value;  // eq. 2
            if (hit.outside()) outside[i] = 1;
        }
        rate_mm_per_year[row] = rate;
    }
}

void factor(const LookupTable& table, std::span<const std::uint8_t> by,
            std::span<const std::uint32_t> rows, Column factors) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        factors[static_cast<Eigen::Index>(i)] = table.value(by[rows[i]]);
    }
}

void corrosion_rate(ConstColumn base_mm_per_year, ConstColumn insulation, ConstColumn complexity,
                    ConstColumn condition, ConstColumn pooling, ConstColumn interface_factor,
                    ConstColumn site, Column rate_mm_per_year) {
    rate_mm_per_year = base_mm_per_year * insulation * complexity * condition *
                       pooling.max(interface_factor) * site;  // eq. 3
}

}  // namespace lagline
