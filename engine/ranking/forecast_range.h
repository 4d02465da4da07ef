#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "blocks/parallel.h"
#include "plant/plant.h"
#include "quantity/date.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What the probability of a leak of one segment may be at a date: quantiles over the samples, 1/y.
struct ProbabilityRange {
    double low_per_year = 0.0;     ///< 10 %
    double middle_per_year = 0.0;  ///< 50 %
    double high_per_year = 0.0;    ///< 90 %
};

/// How sure the years ahead of some segments are.
struct ForecastRanges {
    std::vector<Date> dates;
    std::size_t samples = 0;
    /// By segment as asked, then by date; empty for a segment of which a rule table refuses every
    /// sample at one of the dates.
    std::vector<std::vector<ProbabilityRange>> segments;
};

/// Draws every cell that is not known as rank_uncertainty() does, and follows each sample through
/// `dates` if nothing is done, as forecast() does.  Samples that a rule table refuses are left out.
/// Neither threads nor blocks nor the order of `rows` change a segment's ranges.
/// @param rows     rows of segments.csv
/// @param samples  at least 2
/// @source  docs/method.md, sections "How sure the rank is" and on the years ahead
[[nodiscard]] ForecastRanges forecast_ranges(const Plant& plant, const RuleSet& rules,
                                             std::span<const std::uint32_t> rows,
                                             std::vector<Date> dates, std::size_t samples,
                                             const WorkPlan& plan = {});

}  // namespace lagline
