#pragma once

#include <optional>
#include <string>

#include "planning/plan.h"
#include "ranking/ranking.h"
#include "report/layout.h"

namespace lagline {

/// Scope sheets of a plan, one for each window and scaffold group, segments without a group by
/// unit: segments with action, coating, places to look first, how well to inspect, what may follow,
/// take-off, and the cautions that hold for any of them.
/// @param window  the only one wanted; nothing: all
[[nodiscard]] std::string scope_text(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking, const Plan& plan,
                                     const TextStyle& style,
                                     std::optional<std::size_t> window = {});

}  // namespace lagline
