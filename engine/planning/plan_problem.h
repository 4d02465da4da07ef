#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "choice/choice_problem.h"
#include "planning/access_groups.h"
#include "planning/deadlines.h"

namespace lagline {

/// A limit of a window: its budget, or the hours of a craft.
struct PlanResource {
    std::size_t window = 0;
    std::optional<Craft> craft;  ///< nothing: the budget
};

/// Everything the optimiser decides upon, and how its answer is read.
struct PlanProblem {
    ChoiceProblem problem;                   ///< unit i is row i of the futures
    std::vector<PlanResource> resources;     ///< limits of turnarounds.csv, by resource
    std::vector<std::uint32_t> strategy_of;  ///< position in Strategies::all, by its strategies
    /// By its strategies: part of the scaffold of the follow window that the segment pays by
    /// itself, above 0 and below 1; the strategy after it is the same with a scaffold that is
    /// shared.  0 for all others.
    std::vector<double> own_scaffold;
    std::vector<std::uint32_t> access_group;  ///< by access
    std::vector<std::size_t> access_window;   ///< by access
    /// Test packs whose segments have no window in common, so that they are planned apart.
    std::vector<std::string> packs_apart;
};

/// What plan_problem() is made from.
struct PlanInputs {
    const Plant& plant;
    const Futures& futures;
    const Strategies& strategies;
    const AccessGroups& groups;
    std::span<const PlanWindow> windows;
    std::span<const Deadline> deadlines;
    const PlanRules& prices;
};

/// The problem of choice (choice.md, eq. 1): the present value of work and leaks over all
/// segments, within budgets and hours, each group's scaffold paid once a window, compulsory
/// segments opened in time, test packs worked on together.
[[nodiscard]] PlanProblem plan_problem(const PlanInputs& inputs);

/// Puts follow-ups that are not certain on the scaffold of their group where that stands anyway, or
/// where their chances add up to one, and else on their own part of it: never dearer, never more
/// hours, and what totals_of() counts.
void settle_scaffolds(const PlanProblem& problem, std::vector<StrategyIndex>& choice);

}  // namespace lagline
