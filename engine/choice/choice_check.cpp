#include "choice/choice_check.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace lagline {
namespace {

bool is_complete(const ChoiceProblem& problem, std::span<const StrategyIndex> choice) {
    if (choice.size() != problem.unit_count()) return false;
    for (UnitIndex unit = 0; unit < choice.size(); ++unit) {
        if (choice[unit] < problem.begin(unit) || choice[unit] >= problem.end(unit)) return false;
    }
    return true;
}

bool bundles_hold(const ChoiceProblem& problem, std::span<const StrategyIndex> choice) {
    std::map<std::uint32_t, std::uint32_t> pattern_of;
    for (UnitIndex unit = 0; unit < choice.size(); ++unit) {
        const std::uint32_t bundle = problem.units.bundle[unit];
        if (bundle == no_bundle) continue;
        const std::uint32_t pattern = problem.strategies.pattern[choice[unit]];
        if (pattern_of.try_emplace(bundle, pattern).first->second != pattern) return false;
    }
    return true;
}

}  // namespace

ChoiceCheck check_choice(const ChoiceProblem& problem, std::span<const StrategyIndex> choice) {
    ChoiceCheck check;
    check.use.assign(problem.resource_count(), 0.0);
    check.overrun.assign(problem.resource_count(), 0.0);
    check.complete = is_complete(problem, choice);
    if (!check.complete) return check;
    check.bundles_hold = bundles_hold(problem, choice);
    std::vector<bool> open(problem.access_count(), false);
    for (const StrategyIndex s : choice) {
        check.strategy_cost += problem.strategies.cost[s];
        problem.strategies.use.add_to(check.use, s);
        for (const AccessIndex a : problem.strategies.needs.of(s)) open[a] = true;
    }
    for (AccessIndex a = 0; a < problem.access_count(); ++a) {
        if (!open[a]) continue;
        ++check.accesses_paid;
        check.access_cost += problem.access.cost[a];
        problem.access.use.add_to(check.use, a);
    }
    check.fits = true;
    for (std::size_t r = 0; r < check.use.size(); ++r) {
        const double capacity = problem.resources.capacity[r];
        const double over = check.use[r] - capacity;
        if (!(over > capacity_tolerance * std::max(1.0, capacity))) continue;
        check.overrun[r] = over;
        const double price = problem.resources.overrun_price[r];
        check.fits = check.fits && std::isfinite(price);
        if (std::isfinite(price)) {
            check.overrun_cost += over * price;
        } else {
            check.weighted_overrun += over * problem.resources.overrun_weight[r];
        }
    }
    return check;
}

double objective_of(const ChoiceProblem& problem, const ChoiceCheck& check) {
    return check.objective() + problem.resources.overrun_charge * check.weighted_overrun;
}

}  // namespace lagline
