#pragma once

#include "choice/sensitivity.h"
#include "planning/plan.h"

namespace lagline {

/// What else the optimiser can say of a plan that it has found.  Keeps references.
class PlanPrices {
  public:
    PlanPrices(const Plan& plan, const PlanProblem& problem, unsigned threads);

    /// By row of the futures: see PlannedSegment::cost_of_waiting.
    [[nodiscard]] std::vector<std::optional<double>> costs_of_waiting() const;
    /// The `count` segments that are left though some work on them would pay, those that come
    /// nearest to it first.
    [[nodiscard]] std::vector<NearMiss> near_misses(std::size_t count) const;

  private:
    [[nodiscard]] bool pays_alone(std::size_t row, StrategyIndex strategy) const;
    [[nodiscard]] NearMiss near_miss(std::size_t row, StrategyIndex strategy) const;
    [[nodiscard]] std::optional<StrategyIndex> later(std::size_t row) const;
    [[nodiscard]] const Strategy& at(StrategyIndex strategy) const {
        return plan_.strategies.all[problem_.strategy_of[strategy]];
    }

    const Plan& plan_;
    const PlanProblem& problem_;
    Regrets regrets_;
};

/// The plan at `points` scales of all budgets, evenly from 0 to twice what is there.
/// Nothing where no window has a budget.
[[nodiscard]] std::vector<BudgetPoint> budget_sweep(const Plan& plan, const PlanProblem& problem,
                                                    std::size_t points,
                                                    const SolveOptions& options);

}  // namespace lagline
