#include "planning/plan_prices.h"

#include <algorithm>
#include <cmath>

namespace lagline {
namespace {

constexpr double widest_scale = 2.0;

}  // namespace

PlanPrices::PlanPrices(const Plan& plan, const PlanProblem& problem, unsigned threads)
    : plan_(plan),
      problem_(problem),
      regrets_(
          regrets(problem.problem, plan.solution.shadow_price, plan.solution.choice, threads)) {}

// The same action in the next window that has it, else to leave the segment.
std::optional<StrategyIndex> PlanPrices::later(std::size_t row) const {
    const auto unit = static_cast<UnitIndex>(row);
    const Strategy& chosen = at(plan_.solution.choice[row]);
    std::optional<StrategyIndex> leave;
    for (StrategyIndex s = problem_.problem.begin(unit); s < problem_.problem.end(unit); ++s) {
        const Strategy& other = at(s);
        if (!other.acts) leave = s;
        if (!other.acts || other.action != chosen.action || other.window <= chosen.window) continue;
        const bool shares =
            problem_.own_scaffold[s] > 0.0 && regrets_.of_strategy[s + 1] < regrets_.of_strategy[s];
        return shares ? s + 1 : s;
    }
    return leave;
}

std::vector<std::optional<double>> PlanPrices::costs_of_waiting() const {
    constexpr double cannot = std::numeric_limits<double>::infinity();
    std::vector<std::optional<double>> costs(plan_.futures.rows());
    for (std::size_t row = 0; row < costs.size(); ++row) {
        const StrategyIndex chosen = plan_.solution.choice[row];
        if (!at(chosen).acts) continue;
        const auto other = later(row);
        costs[row] = other ? regrets_.of_strategy[*other] - regrets_.of_strategy[chosen] : cannot;
    }
    return costs;
}

// Worth its own money: what others would do with that is another matter.
bool PlanPrices::pays_alone(std::size_t row, StrategyIndex strategy) const {
    const Strategy& chosen = at(plan_.solution.choice[row]);
    return at(strategy).acts && at(strategy).value() < chosen.value();
}

NearMiss PlanPrices::near_miss(std::size_t row, StrategyIndex strategy) const {
    const StrategyIndex chosen = plan_.solution.choice[row];
    NearMiss miss;
    miss.row = row;
    miss.strategy = problem_.strategy_of[strategy];
    miss.short_by = regrets_.of_strategy[strategy] - regrets_.of_strategy[chosen];
    miss.saves = at(chosen).loss - at(strategy).loss;
    miss.cost = at(strategy).cost;
    const UseTable& use = problem_.problem.strategies.use;
    double most = 0.0;
    for (std::uint32_t k = use.first[strategy]; k < use.first[strategy + 1]; ++k) {
        const double worth = use.amount[k] * plan_.solution.shadow_price[use.resource[k]];
        miss.scarce += worth;
        if (worth > most) {
            most = worth;
            miss.scarcest = problem_.resources[use.resource[k]];
        }
    }
    return miss;
}

std::vector<NearMiss> PlanPrices::near_misses(std::size_t count) const {
    std::vector<NearMiss> found;
    for (std::size_t row = 0; row < plan_.futures.rows(); ++row) {
        const StrategyIndex chosen = plan_.solution.choice[row];
        if (at(chosen).acts) continue;
        const auto unit = static_cast<UnitIndex>(row);
        std::optional<StrategyIndex> nearest;
        for (StrategyIndex s = problem_.problem.begin(unit); s < problem_.problem.end(unit); ++s) {
            if (!pays_alone(row, s) || !std::isfinite(regrets_.of_strategy[s])) continue;
            if (!nearest || regrets_.of_strategy[s] < regrets_.of_strategy[*nearest]) nearest = s;
        }
        if (nearest) found.push_back(near_miss(row, *nearest));
    }
    std::ranges::stable_sort(found, {}, &NearMiss::short_by);
    if (found.size() > count) found.resize(count);
    return found;
}

std::vector<BudgetPoint> budget_sweep(const Plan& plan, const PlanProblem& problem,
                                      std::size_t points, const SolveOptions& options) {
    std::vector<ResourceIndex> budgets;
    double budget = 0.0;
    for (std::size_t r = 0; r < problem.resources.size(); ++r) {
        if (problem.resources[r].craft) continue;
        budgets.push_back(static_cast<ResourceIndex>(r));
        budget += problem.problem.resources.capacity[r];
    }
    if (budgets.empty() || points < 2) return {};
    std::vector<double> factors;
    for (std::size_t i = 0; i < points; ++i) {
        factors.push_back(widest_scale * static_cast<double>(i) / static_cast<double>(points - 1));
    }
    std::vector<BudgetPoint> sweep;
    for (const SweepPoint& at : sweep_capacities(problem.problem, budgets, factors, options)) {
        BudgetPoint point;
        point.factor = at.factor;
        point.budget = at.factor * budget;
        point.gap = at.solution.gap;
        point.fits = at.solution.status != SolveStatus::overrun;
        if (at.solution.choice.empty()) continue;
        std::vector<std::uint32_t> choice;
        for (const StrategyIndex s : at.solution.choice) choice.push_back(problem.strategy_of[s]);
        const PlanTotals totals = totals_of(plan.strategies, plan.groups, plan.windows,
                                            plan.deadlines, plan.futures.horizon, choice);
        point.spent = totals.spent();
        point.loss = totals.loss;
        point.overrun_charge =
            problem.problem.resources.overrun_charge * at.solution.weighted_overrun;
        point.value = totals.value();
        sweep.push_back(point);
    }
    return sweep;
}

}  // namespace lagline
