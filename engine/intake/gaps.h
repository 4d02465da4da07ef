#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Cells of one column that were not given and what they take instead.
struct Gap {
    std::size_t field = 0;  ///< index into segment_fields()
    CellState state{};
    std::size_t count = 0;  ///< segments
    std::string taken;      ///< "average"; for values that differ by row, how they come about
    std::string reason;     ///< of the rule; may be empty
    Place place;            ///< of the rule or of plant.yaml; may be empty
    std::string basis;      ///< of the rule; may be empty
};

/// The register of assumptions: every gap of segments.csv, by column and state.
/// @param fields  columns to look at (indices into segment_fields()); others do not count
[[nodiscard]] std::vector<Gap> find_gaps(const Plant& plant, const RuleSet& rules,
                                         const std::vector<std::size_t>& fields);

}  // namespace lagline
