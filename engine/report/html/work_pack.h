#pragma once

#include <optional>
#include <string>

#include "planning/plan.h"
#include "ranking/ranking.h"

namespace lagline {

/// The work pack: one HTML file to print on A4, without scripts and without anything to load.  A
/// cover with windows and sheets; how to fill in findings; for each window and scaffold group a
/// sheet with cautions, the work on each segment, a table for the findings and lines to sign.
/// @param window   the only one wanted; nothing: all
/// @param version  of Lagline
[[nodiscard]] std::string work_pack(const Plant& plant, const RuleSet& rules,
                                    const Ranking& ranking, const Plan& plan,
                                    std::optional<std::size_t> window, std::string_view version);

}  // namespace lagline
