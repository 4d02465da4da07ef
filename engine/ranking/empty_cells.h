#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A segment to try cells on: what it holds, by column of segments.csv, as a person writes it.
struct TriedSegment {
    std::map<std::string, std::string, std::less<>> cells;
    PlantDescription description;
    Date at;
};

/// NPS 6 carbon steel pipe of 10.97 mm at 70 degC, 15 years in service, with one coat of epoxy and
/// only the needed columns given else: `lagline rules defaults` tries every column on it.
[[nodiscard]] TriedSegment reference_segment();

/// What may stand in cells that are empty, and what it does to the risk.
struct TriedCells {
    std::string text;     ///< "severe"; "medium, epoxy" for two columns
    double share = 0.0;   ///< how common it is; all shares add up to 1
    double effect = 0.0;  ///< risk over that with the cells left empty; infinity where that is 0
};
struct WeighedCells {
    std::vector<TriedCells> values;  ///< empty where the rules do not say how common they are
    double worse = 0.0;   ///< share of the values with a greater risk than the empty cells
    double median = 1.0;  ///< effect at the middle of the shares (the lower one)
    Report report;        ///< what kept the segment from being read
    /// Not flattered: at most half of what may stand there is worse than the empty cells.
    [[nodiscard]] bool cautious() const;
};

/// Ranks the segment with these columns (indices into segment_fields()) empty, and with each of the
/// values that they may hold.  How common those are is said by the distributions of missing cells:
/// words by their shares, numbers by five quantiles, dates by five days of the period; given what
/// the other cells of the segment hold.  All is worked out by the method itself.
[[nodiscard]] WeighedCells weigh_empty(const RuleSet& rules, const TriedSegment& segment,
                                       std::span<const std::size_t> fields);

/// An optional column that the method reads, and where its default stands on the reference segment.
struct EmptyColumn {
    std::size_t field = 0;
    std::string taken;   ///< "average", "by material, table yield_strength", or how it comes about
    std::string reason;  ///< why that is taken, or why nothing is weighed
    std::string basis;   ///< of the distribution
    WeighedCells weighed;
};
[[nodiscard]] std::vector<EmptyColumn> empty_columns(const RuleSet& rules);

}  // namespace lagline
