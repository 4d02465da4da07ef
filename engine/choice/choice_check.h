#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "choice/choice_problem.h"

namespace lagline {

/// Part of a capacity by which sums of doubles may differ before a resource counts as overrun.
inline constexpr double capacity_tolerance = 1e-9;

/// What a choice costs and takes, worked out from the problem alone.
struct ChoiceCheck {
    bool complete = false;      ///< one strategy of its own for every unit
    bool bundles_hold = false;  ///< one pattern in every bundle
    bool fits = false;          ///< no resource beyond its capacity unless its overrun has a price
    double strategy_cost = 0.0;
    double access_cost = 0.0;
    double overrun_cost = 0.0;
    std::vector<double> use;      ///< by resource
    std::vector<double> overrun;  ///< by resource, 0 where within capacity_tolerance
    /// Sum of overrun x overrun_weight over the resources that must not be exceeded.
    double weighted_overrun = 0.0;
    std::size_t accesses_paid = 0;

    [[nodiscard]] bool feasible() const { return complete && bundles_hold && fits; }
    [[nodiscard]] double objective() const { return strategy_cost + access_cost + overrun_cost; }
};

/// Re-computes feasibility, use and cost of `choice`, with no help from a solver.
/// @param choice  strategy taken by each unit
/// @source docs/choice.md, eq. 1
[[nodiscard]] ChoiceCheck check_choice(const ChoiceProblem& problem,
                                       std::span<const StrategyIndex> choice);

/// The cost of a checked choice, with the charge of overruns that must not be.
[[nodiscard]] double objective_of(const ChoiceProblem& problem, const ChoiceCheck& check);

}  // namespace lagline
