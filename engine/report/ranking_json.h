#pragma once

#include <cstddef>
#include <string>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking as a JSON document: plant, date, rules, the description of every column (unit,
/// meaning, equation, source), a row per segment and mechanism in the order of rank, the segments
/// that could not be ranked, and the cautions.
/// @param top  rows to print; 0 for all
[[nodiscard]] std::string ranking_json(const Plant& plant, const RuleSet& rules,
                                       const Ranking& ranking, std::size_t top);

}  // namespace lagline
