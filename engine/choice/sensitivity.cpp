#include "choice/sensitivity.h"

#include <algorithm>
#include <limits>

#include "choice/priced_components.h"

namespace lagline {

std::vector<SweepPoint> sweep_capacities(const ChoiceProblem& problem,
                                         std::span<const ResourceIndex> scaled,
                                         std::span<const double> factors,
                                         const SolveOptions& options) {
    std::vector<SweepPoint> points;
    ChoiceProblem at_factor = problem;
    SolveOptions own = options;
    for (const double factor : factors) {
        for (const ResourceIndex r : scaled) {
            at_factor.resources.capacity[r] = factor * problem.resources.capacity[r];
        }
        points.push_back({factor, solve_by_prices(at_factor, own)});
        own.start_prices = points.back().solution.shadow_price;
        own.start_choice = points.back().solution.choice;
    }
    return points;
}

Regrets regrets(const ChoiceProblem& problem, std::span<const double> prices,
                std::span<const StrategyIndex> choice, unsigned threads) {
    Regrets out;
    PricedComponents components(problem, threads);
    PricedChoice at_prices;
    components.solve(prices, at_prices);
    out.priced_bound = at_prices.proven();
    components.reduced_costs(prices, out.of_strategy);
    for (double& rise : out.of_strategy) rise = std::max(0.0, rise);  // rounding
    out.of_unit.assign(problem.unit_count(), std::numeric_limits<double>::infinity());
    for (UnitIndex unit = 0; unit < problem.unit_count(); ++unit) {
        const double own = out.of_strategy[choice[unit]];
        for (StrategyIndex s = problem.begin(unit); s < problem.end(unit); ++s) {
            if (s == choice[unit]) continue;
            out.of_unit[unit] = std::min(out.of_unit[unit], out.of_strategy[s] - own);
        }
    }
    return out;
}

Solution solve_with_forced(const ChoiceProblem& problem, UnitIndex unit, StrategyIndex strategy,
                           const Solution& start, const SolveOptions& options) {
    std::vector<std::uint8_t> keep(problem.strategy_count(), 1);
    std::fill(keep.begin() + problem.begin(unit), keep.begin() + problem.end(unit),
              std::uint8_t{0});
    keep[strategy] = 1;
    const ReducedProblem reduced = with_only(problem, keep);
    SolveOptions own = options;
    own.start_choice.clear();
    own.start_prices = start.shadow_price;
    Solution out = solve_by_prices(reduced.problem, own);
    for (StrategyIndex& s : out.choice) s = reduced.kept[s];
    return out;
}

}  // namespace lagline
