#include <algorithm>

#include "degradation/coating.h"
#include "degradation/degradation.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

bool ever_found_failed(const BlockOfRows& block, std::uint32_t segment, double failed_grade) {
    const Plant& plant = block.plant;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        if (Date{plant.inspections.days(InspectionField::date)[row]} > block.at) break;
        if (found_failed(plant, segment, row, failed_grade)) return true;
    }
    return false;
}

void store_life(const CoatingLife& found, Eigen::Index row, CoatingColumns& out) {
    out.base_scale_years[row] = found.base_scale_years;
    out.preparation_factor[row] = found.preparation;
    out.place_factor[row] = found.place;
    out.application_factor[row] = found.application;
    out.film_um[row] = found.film_um;
    out.thin_film_factor[row] = found.thin_film;
    out.cracking_factor[row] = found.cracking;
    out.temperature_factor[row] = found.temperature;
    out.cycling_factor[row] = found.cycling;
    out.wet_factor[row] = found.wet;
    out.scale_years[row] = found.life.scale_years;
    out.shape[row] = found.life.shape;
}

}  // namespace

void fill_coating_life(const BlockOfRows& block, const DegradationRules& rules,
                       const ExposureColumns& exposure, std::span<const ServiceLevels> levels,
                       CoatingColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const std::uint32_t segment = block.segments[i];
        if (!rules.life) {
            out.life_years[row] =
                rules.coating_life->value(segments.codes(S::coating_quality)[segment]);
            continue;
        }
        const ServiceLevels& seen = levels[i - block.range.begin];
        store_life(coating_life(block.plant, *rules.life, segment, exposure.driver[row],
                                seen.highest_degc(), seen.lowest_degc(), block.at),
                   row, out);
    }
}

void fill_coating_age(const BlockOfRows& block, const DegradationRules& rules,
                      CoatingColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const std::uint32_t segment = block.segments[i];
        const Date coated{segments.days(S::coating_date)[segment]};
        out.age_years[row] = std::max(0.0, years_between(coated, block.at));  // eq. 5
        out.failed[row] =
            ever_found_failed(block, segment, rules.history.failed_rust_grade) ? 1 : 0;
        if (!rules.life) continue;
        const Weibull life{out.scale_years[row], out.shape[row]};
        out.broken_probability[row] = life.broken_by(out.age_years[row]);  // eq. 34
    }
}

ProtectedTime protected_time(const BlockOfRows& block, const DegradationRules& rules,
                             const CoatingColumns& coating, std::size_t row, Date from, Date to,
                             bool failed) {
    const auto at = static_cast<Eigen::Index>(row);
    const double since = std::max(0.0, years_between(from, to));
    if (rules.life) {
        const Weibull life{coating.scale_years[at], coating.shape[at]};
        const double exposed =
            expected_unprotected(block.plant, *rules.life, life, block.segments[row], from, to,
                                 rules.history.failed_rust_grade);
        return {std::max(0.0, since - exposed), exposed};
    }
    const Date coated{block.plant.segments.days(S::coating_date)[block.segments[row]]};
    const double age = std::max(0.0, years_between(coated, to));
    const double credit = coating_credit_years(coating.life_years[at], age, since, failed);
    return {credit, std::max(0.0, since - credit)};  // eq. 7
}

}  // namespace lagline
