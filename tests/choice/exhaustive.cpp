#include "choice/exhaustive.h"

#include <algorithm>
#include <cmath>

#include "choice/choice_check.h"

namespace choice_test {

using namespace lagline;

namespace {

double weighted_overrun(const ChoiceProblem& problem, const ChoiceCheck& check) {
    double sum = 0.0;
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        if (std::isfinite(problem.resources.overrun_price[r])) continue;
        sum += check.overrun[r] * problem.resources.overrun_weight[r];
    }
    return sum;
}

/// The next choice, as an odometer turns; false after the last.
bool turn(const ChoiceProblem& problem, std::vector<StrategyIndex>& choice) {
    for (UnitIndex unit = 0; unit < choice.size(); ++unit) {
        if (++choice[unit] < problem.end(unit)) return true;
        choice[unit] = problem.begin(unit);
    }
    return false;
}

}  // namespace

Exhaustive try_all(const ChoiceProblem& problem) {
    Exhaustive best;
    best.objective_with.assign(problem.strategy_count(), best.objective);
    std::vector<StrategyIndex> choice;
    for (UnitIndex unit = 0; unit < problem.unit_count(); ++unit) {
        choice.push_back(problem.begin(unit));
    }
    do {
        const ChoiceCheck check = check_choice(problem, choice);
        if (!check.bundles_hold) continue;
        best.charged =
            std::min(best.charged, check.objective() + problem.resources.overrun_charge *
                                                           weighted_overrun(problem, check));
        best.weighted_overrun = std::min(best.weighted_overrun, weighted_overrun(problem, check));
        if (!check.feasible()) continue;
        best.feasible = true;
        best.objective = std::min(best.objective, check.objective());
        for (const StrategyIndex s : choice) {
            best.objective_with[s] = std::min(best.objective_with[s], check.objective());
        }
    } while (turn(problem, choice));
    return best;
}

}  // namespace choice_test
