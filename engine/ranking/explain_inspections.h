#pragma once

#include <cstdint>
#include <vector>

#include "ranking/explain.h"

namespace lagline {

/// The inspections of the segment of a ranked row, by date, each with what it was used for.
[[nodiscard]] std::vector<ExplainedInspection> explain_inspections(const Plant& plant,
                                                                   const RuleSet& rules,
                                                                   const Ranking& ranking,
                                                                   std::uint32_t row);

/// The entry that classes a row of inspections.csv by its effectiveness.
/// @param table  inspection_effectiveness, or that for cracking
[[nodiscard]] const RuleEntry& effectiveness_rule(const Plant& plant, const BandTable& table,
                                                  std::uint32_t row);

}  // namespace lagline
