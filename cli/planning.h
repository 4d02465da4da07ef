#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/session.h"
#include "planning/plan.h"

namespace lagline::cli {

/// What every command that makes a plan can be told.
struct PlanRequest {
    std::vector<std::string> budgets;  ///< WINDOW=AMOUNT
    double gap = 1e-3;
    double seconds = 60.0;
    std::optional<FoundChoice> found;  ///< taken instead of a search
    bool curve = true;                 ///< also the plan at other budgets
};
/// A trial makes two plans and draws no curve.
enum class PlanOptionsFor { plan, trial };
void add_plan_options(Command& command, PlanRequest& request,
                      PlanOptionsFor use = PlanOptionsFor::plan);

/// Plans with a progress bar; nothing, and a message, when there is no window to plan for or a
/// budget names none.
/// @param ranking  with the outlook of all rows
[[nodiscard]] std::optional<Plan> plan_opened(const Opened& opened, const Ranking& ranking,
                                              const PlantOptions& options,
                                              const PlanRequest& request);

}  // namespace lagline::cli
