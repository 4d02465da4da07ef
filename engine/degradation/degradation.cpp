#include "degradation/degradation.h"

#include <algorithm>

#include "degradation/wall_loss.h"

namespace lagline {
namespace {

using S = SegmentField;

void site_factor(const DegradationRules& rules, std::span<const std::uint32_t> rows,
                 Column factors) {
    factors.setOnes();
    for (const SiteFactorColumn& column : rules.site_factors) {
        for (std::size_t i = 0; i < rows.size(); ++i) {
            factors[static_cast<Eigen::Index>(i)] *= column.find(rows[i]).value;
        }
    }
}

void condition_factor(const BlockOfRows& block, const DegradationRules& rules,
                      const ExposureColumns& exposure, Numbers& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        out[static_cast<Eigen::Index>(i)] = rules.condition->value(
            insulation_condition(block.plant, exposure, i, block.segments[i]));
    }
}

// Repeated wetting and drying counts where the cycle passes through the boiling point of water.
void cycling_factor(const BlockOfRows& block, const DegradationRules& rules,
                    const ExposureColumns& exposure, Numbers& out) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        out[row] = 1.0;
        const bool boils = exposure.lowest_degc[row] < rules.boiling_degc &&
                           exposure.highest_degc[row] > rules.boiling_degc;
        if (!boils || !segments.has(S::cycles_per_year, block.segments[i])) continue;
        out[row] =
            rules.cycling->find(0, segments.numbers(S::cycles_per_year)[block.segments[i]]).value;
    }
}

}  // namespace

void fill_corrosion_rate(const BlockOfRows& block, const DegradationRules& rules,
                         const ExposureColumns& exposure, std::span<const ServiceLevels> levels,
                         WallLossColumns& out) {
    const Plant& plant = block.plant;
    const auto begin = static_cast<Eigen::Index>(block.range.begin);
    const auto size = static_cast<Eigen::Index>(block.range.size());
    const auto mine = block.segments.subspan(block.range.begin, block.range.size());
    const auto part = [&](Numbers& column) { return column.segment(begin, size); };
    const std::span<std::uint8_t> outside{out.outside_range.data() + begin, block.range.size()};
    std::ranges::fill(outside, std::uint8_t{0});
    base_rate(*rules.base_rate, levels, {exposure.driver.data() + begin, block.range.size()},
              part(out.base_rate_mm_per_year), outside);
    factor(*rules.insulation, plant.segments.codes(S::insulation_type), mine,
           part(out.insulation_factor));
    factor(*rules.complexity, plant.segments.codes(S::complexity), mine,
           part(out.complexity_factor));
    condition_factor(block, rules, exposure, out.condition_factor);
    factor(*rules.pooling, plant.segments.codes(S::pooling), mine, part(out.pooling_factor));
    factor(*rules.interface_factor, plant.segments.codes(S::ground_or_water_interface), mine,
           part(out.interface_factor));
    site_factor(rules, mine, part(out.site_factor));
    Numbers& table_rate = out.readings.table_rate_mm_per_year;
    corrosion_rate(part(out.base_rate_mm_per_year), part(out.insulation_factor),
                   part(out.complexity_factor), part(out.condition_factor),
                   part(out.pooling_factor), part(out.interface_factor), part(out.site_factor),
                   part(table_rate));
    if (rules.cycling != nullptr) {
        cycling_factor(block, rules, exposure, out.cycling_factor);
        part(table_rate) *= part(out.cycling_factor);  // eq. 3, F_cyc
    }
}

}  // namespace lagline
