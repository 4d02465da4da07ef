#include "choice/least_overrun.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <span>

#include "choice/choice_check.h"

namespace lagline {
namespace {

/// No costs, and each hard limit softened at the weight of its overrun.
ChoiceProblem overrun_alone(const ChoiceProblem& problem) {
    ChoiceProblem out = problem;
    std::ranges::fill(out.strategies.cost, 0.0);
    std::ranges::fill(out.access.cost, 0.0);
    for (std::size_t r = 0; r < out.resource_count(); ++r) {
        double& price = out.resources.overrun_price[r];
        price = std::isfinite(price) ? 0.0 : out.resources.overrun_weight[r];
    }
    return out;
}

/// Each hard limit softened at a price that does not depend on the capacities.
ChoiceProblem charged(const ChoiceProblem& problem) {
    ChoiceProblem out = problem;
    for (std::size_t r = 0; r < out.resource_count(); ++r) {
        double& price = out.resources.overrun_price[r];
        if (std::isfinite(price)) continue;
        price = out.resources.overrun_charge * out.resources.overrun_weight[r];
    }
    return out;
}

/// Cost of a choice with its overruns at the charge; infinity where it is none.
double charged_cost(const ChoiceProblem& problem, std::span<const StrategyIndex> choice) {
    const ChoiceCheck check = check_choice(problem, choice);
    if (!check.complete || !check.bundles_hold) return std::numeric_limits<double>::infinity();
    return objective_of(problem, check);
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

std::optional<Solution> solve_with_least_overrun(const ChoiceProblem& problem,
                                                 const SolveOptions& options,
                                                 const PlainSolver& plain) {
    const auto start = std::chrono::steady_clock::now();
    SolveOptions own = options;
    own.start_prices.clear();
    own.start_choice.clear();
    own.time_limit_s = 0.5 * options.time_limit_s;
    const Solution least = plain(overrun_alone(problem), own);
    if (least.choice.empty()) return std::nullopt;

    const ChoiceCheck check = check_choice(problem, least.choice);
    const bool fits = check.weighted_overrun <= 0.0;
    const ChoiceProblem relaxed = fits ? problem : charged(problem);
    own.start_prices = options.start_prices;
    own.start_choice = least.choice;
    if (!fits && charged_cost(problem, options.start_choice) < charged_cost(problem, least.choice))
        own.start_choice = options.start_choice;
    own.time_limit_s = std::max(0.0, options.time_limit_s - seconds_since(start));
    Solution out = plain(relaxed, own);
    const ChoiceCheck after = check_choice(problem, out.choice);
    out.overrun.assign(problem.resource_count(), 0.0);
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        if (!std::isfinite(problem.resources.overrun_price[r])) out.overrun[r] = after.overrun[r];
    }
    out.weighted_overrun = after.weighted_overrun;
    out.least_overrun_proven = least.status == SolveStatus::proven;
    out.weighted_overrun_bound = std::min(std::max(0.0, least.bound), out.weighted_overrun);
    if (out.weighted_overrun > 0.0) out.status = SolveStatus::overrun;
    return out;
}

}  // namespace lagline
