#include "degradation/wall_loss.h"

namespace lagline {

void base_rate(const CurveTable& table, ConstColumn metal_degc,
               std::span<const std::uint8_t> driver, Column rate_mm_per_year,
               std::span<std::uint8_t> outside) {
    for (Eigen::Index i = 0; i < metal_degc.size(); ++i) {
        const auto at = static_cast<std::size_t>(i);
        const RuleHit hit = table.find(driver[at], metal_degc[i]);  // eq. 2
        rate_mm_per_year[i] = hit.value;
        if (hit.outside()) outside[at] = 1;
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
