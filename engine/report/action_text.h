#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "planning/actions.h"
#include "ranking/ranking.h"
#include "report/layout.h"

namespace lagline {

/// What can be done with a segment, window by window: cost, leaks left, or why not; and of one
/// action in the first window that has it: the build-up of its cost and the tree of what may be
/// found and what then follows.  Nothing where the segment is not ranked.
/// @param shown  the action shown in full; nothing: the one of the list that costs least with leaks
[[nodiscard]] std::optional<std::string> actions_text(const Plant& plant, const RuleSet& rules,
                                                      const Ranking& ranking,
                                                      std::uint32_t segment_row,
                                                      std::optional<WorkAction> shown,
                                                      const TextStyle& style);

}  // namespace lagline
