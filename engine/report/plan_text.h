#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "planning/plan.h"
#include "report/layout.h"

namespace lagline {

/// The plan for a terminal: windows, what it costs and saves beside doing nothing and beside
/// simpler ways, what limits it, what each part of the budget buys, the work by window, what just
/// missed, and what the reader must know.
/// @param top  rows of work, 0 for all
[[nodiscard]] std::string plan_text(const Plant& plant, const RuleSet& rules, const Plan& plan,
                                    std::size_t top, const TextStyle& style);

/// "strip_recoat" as people say it in a table: "strip, recoat".
[[nodiscard]] std::string_view short_name(WorkAction action);

/// "budget", "coating hours".
[[nodiscard]] std::string name_of_limit(const RuleSet& rules, const std::optional<Craft>& craft);

}  // namespace lagline
