#pragma once

#include <cstddef>
#include <string>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "report/layout.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking for a terminal: what was ranked, at which date and by which rules; the first `top`
/// rows with what drives each; how many stand in each band of risk; what was not ranked; cautions.
/// @param top  rows to print; 0 for all
[[nodiscard]] std::string ranking_table(const Plant& plant, const RuleSet& rules,
                                        const Ranking& ranking, std::size_t top,
                                        const TextStyle& style);

}  // namespace lagline
