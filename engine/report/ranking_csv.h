#pragma once

#include <cstddef>
#include <string>

#include "blocks/parallel.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking as CSV (RFC 4180, LF): a heading with units, then a row per segment and mechanism
/// in the order of rank.  Numbers are printed to read back as the same double.
/// @param top  rows to print; 0 for all
[[nodiscard]] std::string ranking_csv(const Plant& plant, const RuleSet& rules,
                                      const Ranking& ranking, std::size_t top,
                                      const WorkPlan& plan = {});

}  // namespace lagline
