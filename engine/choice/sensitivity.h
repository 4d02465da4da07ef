#pragma once

#include <span>
#include <vector>

#include "choice/choice_solver.h"

namespace lagline {

/// The plan at one scale of the budgets.
struct SweepPoint {
    double factor = 1.0;
    Solution solution;
};

/// Solves with the capacities of `scaled` multiplied by each factor.  Each point starts from the
/// prices and, where it fits, the choice of the point before, so factors are best ascending.
/// @param scaled   resources whose capacity is scaled, usually the budgets
/// @param factors  >= 0; one point each, in their order
[[nodiscard]] std::vector<SweepPoint> sweep_capacities(const ChoiceProblem& problem,
                                                       std::span<const ResourceIndex> scaled,
                                                       std::span<const double> factors,
                                                       const SolveOptions& options);

/// What it would cost to choose otherwise, at the margin: resources at their shadow prices.
struct Regrets {
    double priced_bound = 0.0;  ///< what the prices prove: no choice costs less
    /// Rise of the priced objective when the strategy is forced, >= 0; infinity where its bundle
    /// cannot follow.  No choice with strategy s costs less than priced_bound plus this.
    std::vector<double> of_strategy;
    /// By unit: the least rise of any other strategy over the one chosen.  Negative where the
    /// choice gave way to a capacity; infinity where there is no other.
    std::vector<double> of_unit;
};

/// @param prices  by resource, >= 0: Solution::shadow_price
/// @param choice  strategy taken by each unit
/// @source docs/choice.md, eq. 5
[[nodiscard]] Regrets regrets(const ChoiceProblem& problem, std::span<const double> prices,
                              std::span<const StrategyIndex> choice, unsigned threads = 0);

/// The best plan in which `unit` takes `strategy`, solved anew from `start`.  Its objective less
/// that of `start` is what forcing costs, exact but for both gaps.
[[nodiscard]] Solution solve_with_forced(const ChoiceProblem& problem, UnitIndex unit,
                                         StrategyIndex strategy, const Solution& start,
                                         const SolveOptions& options);

}  // namespace lagline
