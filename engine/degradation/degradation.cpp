#include "degradation/degradation.h"

#include <algorithm>
#include <array>

#include "degradation/wall_loss.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

// A hole has no wall left; so small a number keeps the ratios of the next step finite.
constexpr double least_wall_mm = 0.01;

const SiteColumn* find_site_column(const Plant& plant, std::string_view heading) {
    const auto found = std::ranges::find(plant.segments.site_columns, heading, &SiteColumn::key);
    return found == plant.segments.site_columns.end() ? nullptr : &*found;
}

void site_factor(const Plant& plant, const DegradationRules& rules,
                 std::span<const std::uint32_t> rows, Column factors) {
    factors.setOnes();
    for (const SiteFactorTable* table : rules.site_factors) {
        const SiteColumn* column = find_site_column(plant, table->info.by);
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const RuleEntry& entry =
                column == nullptr ? table->otherwise : table->find(column->texts[rows[i]]);
            factors[static_cast<Eigen::Index>(i)] *= entry.value;
        }
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

void fill_wall(const BlockOfRows& block, const DegradationRules& rules, CoatingColumns& coating,
               WallLossColumns& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const auto split = [&](const History& known, Date day) {
            return protected_time(block, rules, coating, i, known.wall_known, day,
                                  known.failed_at != History::nothing);
        };
        const History history = read_history(
            block.plant, block.segments[i], block.at, block.effectiveness, rules.history,
            out.corrosion_rate_mm_per_year[row],
            [&](const History& known, Date day) { return split(known, day).exposed_years; });
        out.wall_thickness_mm[row] = std::max(least_wall_mm, history.wall_mm);  // eq. 4
        out.time_since_wall_years[row] = std::max(0.0, years_between(history.wall_known, block.at));
        out.reading[i] = history.reading;
        out.found_failed[i] = history.failed_at;
        const ProtectedTime time = split(history, block.at);
        coating.credit_years[row] = time.credit_years;
        coating.exposed_time_years[row] = time.exposed_years;
    }
}

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
    factor(*rules.condition, plant.segments.codes(S::insulation_condition), mine,
           part(out.condition_factor));
    factor(*rules.pooling, plant.segments.codes(S::pooling), mine, part(out.pooling_factor));
    factor(*rules.interface_factor, plant.segments.codes(S::ground_or_water_interface), mine,
           part(out.interface_factor));
    site_factor(plant, rules, mine, part(out.site_factor));
    corrosion_rate(part(out.base_rate_mm_per_year), part(out.insulation_factor),
                   part(out.complexity_factor), part(out.condition_factor),
                   part(out.pooling_factor), part(out.interface_factor), part(out.site_factor),
                   part(out.corrosion_rate_mm_per_year));
    if (rules.cycling != nullptr) {
        cycling_factor(block, rules, exposure, out.cycling_factor);
        part(out.corrosion_rate_mm_per_year) *= part(out.cycling_factor);  // eq. 3, F_cyc
    }
}

}  // namespace lagline
