#include "degradation/degradation.h"

#include <algorithm>
#include <cmath>

#include "degradation/wall_loss.h"
#include "exposure/driver_level.h"
#include "quantity/date.h"

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

double driver_level(const ExposureColumns& exposure, Eigen::Index row) {
    if (exposure.driver_level.size() > 0) return exposure.driver_level[row];
    return exposure.driver[row];
}

// Repeated wetting and drying counts where the cycle passes through the boiling point of water, and
// more where it passes through the dew point and so draws water in: what wets the steel then is in
// the time of the levels only by its temperature.  How much faster than steady wet steel at the
// worst temperature is bounded (eq. 104).
void cycling_factor(const BlockOfRows& block, const DegradationRules& rules,
                    const ExposureColumns& exposure, std::size_t i, WallLossColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    const auto row = static_cast<Eigen::Index>(i);
    const std::uint32_t segment = block.segments[i];
    out.cycling_factor[row] = 1.0;
    if (!segments.has(S::cycles_per_year, segment)) return;
    const double cycles = segments.numbers(S::cycles_per_year)[segment];
    const double from = rules.boiling_degc - rules.boiling_band_k;
    const double to = rules.boiling_degc + rules.boiling_band_k;
    const double boils = place_in_band(exposure.highest_degc[row], from, to) *
                         (1.0 - place_in_band(exposure.lowest_degc[row], from, to));
    const double dried = 1.0 + boils * (rules.cycling->find(0, cycles).value - 1.0);
    // In powers, so that a degree more or less changes the rate by the same share everywhere.
    const double wetted =
        std::pow(rules.dew_cycling->find(0, cycles).value, exposure.dew_point_crossing[row]);
    const double base = out.base_rate_mm_per_year[row];
    const double peak = peak_at_level(*rules.base_rate, driver_level(exposure, row));
    const double most = base > 0.0 ? rules.dew_cycling_most * peak / base : wetted;
    out.cycling_factor[row] = std::max(dried, std::min(wetted, most));
}

// Insulation whose day is not recorded is taken as old as the pipe.
void insulation_age(const BlockOfRows& block, const DegradationRules& rules, std::size_t i,
                    WallLossColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    const auto row = static_cast<Eigen::Index>(i);
    const std::uint32_t segment = block.segments[i];
    const S since =
        segments.has(S::insulation_installed, segment) ? S::insulation_installed : S::in_service;
    out.insulation_age_years[row] =
        std::max(0.0, years_between(Date{segments.days(since)[segment]}, block.at));
    out.insulation_age_factor[row] =
        rules.insulation_age->find(0, out.insulation_age_years[row]).value;  // eq. 105
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
    if (exposure.driver_level.size() > 0) {
        base_rate_at_level(*rules.base_rate, levels, exposure.driver_level.segment(begin, size),
                           part(out.base_rate_mm_per_year), outside);
    } else {
        base_rate(*rules.base_rate, levels, {exposure.driver.data() + begin, block.range.size()},
                  part(out.base_rate_mm_per_year), outside);
    }
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
        for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
            cycling_factor(block, rules, exposure, i, out);
            insulation_age(block, rules, i, out);
        }
        factor(*rules.weather_jacket, plant.segments.codes(S::jacket), mine,
               part(out.weather_jacket_factor));
        factor(*rules.orientation, plant.segments.codes(S::orientation), mine,
               part(out.orientation_factor));
        part(table_rate) *= part(out.cycling_factor) * part(out.weather_jacket_factor) *
                            part(out.insulation_age_factor) *
                            part(out.orientation_factor);  // eq. 3, extended
    }
}

}  // namespace lagline
