#include "planning/found_choice.h"

#include <algorithm>
#include <stdexcept>

#include "choice/choice_check.h"
#include "planning/plan.h"

namespace lagline {
namespace {

[[noreturn]] void refuse(const char* why) {
    throw std::runtime_error(std::string{"the choice that was found is not of this plan: "} + why);
}

StrategyIndex strategy_at(const PlanProblem& problem, std::size_t row, std::uint32_t strategy) {
    const auto unit = static_cast<UnitIndex>(row);
    for (StrategyIndex s = problem.problem.begin(unit); s < problem.problem.end(unit); ++s) {
        if (problem.strategy_of[s] == strategy) return s;
    }
    refuse("a strategy that cannot be had");
}

}  // namespace

FoundChoice found_choice(const Plan& plan) {
    FoundChoice found{
        plan.solution.bound, plan.solution.weighted_overrun_bound, plan.solution.shadow_price, {}};
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        found.strategies.push_back(plan.segments[row].strategy - plan.strategies.first[row]);
    }
    return found;
}

Solution solution_of(const FoundChoice& found, const PlanProblem& problem,
                     const Strategies& strategies) {
    if (found.strategies.size() != strategies.rows()) refuse("another number of segments");
    if (found.prices.size() != problem.problem.resource_count()) refuse("another number of limits");
    Solution solution;
    for (std::size_t row = 0; row < strategies.rows(); ++row) {
        solution.choice.push_back(
            strategy_at(problem, row, strategies.first[row] + found.strategies[row]));
    }
    settle_scaffolds(problem, solution.choice);
    const ChoiceCheck check = check_choice(problem.problem, solution.choice);
    if (!check.complete || !check.bundles_hold) refuse("test packs are split");
    solution.objective = objective_of(problem.problem, check);
    solution.bound = found.bound;
    solution.gap = gap_of(solution.objective, solution.bound);
    solution.shadow_price = found.prices;
    solution.overrun = check.overrun;
    solution.weighted_overrun = check.weighted_overrun;
    solution.weighted_overrun_bound = found.weighted_overrun_bound;
    solution.status = check.fits ? SolveStatus::stopped : SolveStatus::overrun;
    return solution;
}

bool ended_by_proof(const Solution& solution, double gap) {
    if (solution.status != SolveStatus::overrun) return solution.status == SolveStatus::proven;
    return solution.gap <= gap && solution.least_overrun_proven;
}

}  // namespace lagline
