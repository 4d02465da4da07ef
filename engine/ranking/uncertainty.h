#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "blocks/parallel.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

struct UncertaintyOptions {
    std::size_t samples = 256;  ///< at least 2
    std::size_t top = 50;       ///< size of the top group; at least 1
};

/// What one cell that is not known for sure does to the rank of its segment.
struct GapEffect {
    const Distribution* distribution = nullptr;
    std::uint32_t row = 0;      ///< of segments.csv or inspections.csv, by the distribution
    std::uint32_t segment = 0;  ///< index into Uncertainty::segments
    double rank_share = 0.0;    ///< first-order index of the rank, 0 to 1
    double rank_variance_removed = 0.0;  ///< rank_share x variance of the rank
    double doubt_removed = 0.0;  ///< of top_probability (1 - top_probability), were the cell known
};

/// What is not known about the place of one segment.
struct SegmentUncertainty {
    std::uint32_t segment_row = 0;
    double risk_per_year = 0.0;           ///< by the values that are taken; plant currency
    double expected_risk_per_year = 0.0;  ///< mean over the samples
    double expected_damage_factor = 0.0;  ///< mean over the samples
    double top_probability = 0.0;         ///< share of samples in which it is in the top group
    double top_error = 0.0;               ///< Monte Carlo standard error of it
    double rank_low = 0.0;                ///< 10 % quantile of the rank over the samples
    double rank_high = 0.0;               ///< 90 % quantile
    double rank_variance = 0.0;
    std::size_t refused = 0;    ///< samples with a value that a rule table refuses; ranked last
    std::size_t first_gap = 0;  ///< its gaps in Uncertainty::gaps
    std::size_t gap_count = 0;
};

/// How sure the ranking of a plant is.
struct Uncertainty {
    RankDate at;
    UncertaintyOptions options;
    std::vector<SegmentUncertainty> segments;  ///< in the order of rank: [0] is rank 1
    std::vector<GapEffect> gaps;               ///< by segment
    /// Gaps that a record can close, by how much of the doubt about the top group each removes;
    /// those that remove nothing are left out.
    std::vector<std::uint32_t> find_first;
    std::vector<NotRanked> not_ranked;
    /// Columns that the method reads and for whose gaps the rules have no distribution (the value
    /// that is taken stands), as indices into segment_fields().
    std::vector<std::size_t> without_distribution;
};

/// Draws every cell that is not known from the distribution of the rules, in `options.samples`
/// scrambled Sobol points, calculates the risk of every sample by the method that ranks, and
/// ranks every sample.  What comes out follows from the segments' names and contents: neither the
/// order of rows nor threads nor blocks change it.
/// @source  docs/method.md, section "How sure the rank is", eq. 60 to 66
[[nodiscard]] Uncertainty rank_uncertainty(const Plant& plant, const RuleSet& rules,
                                           const UncertaintyOptions& options,
                                           const WorkPlan& plan = {});

/// Columns of segments.csv that ranking by `rules` reads and that have no distribution for cells
/// that can be missing or imprecise.
[[nodiscard]] std::vector<std::size_t> fields_without_distribution(const RuleSet& rules);

}  // namespace lagline
