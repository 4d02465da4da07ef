#include "choice/least_overrun.h"

#include <algorithm>
#include <chrono>
#include <cmath>

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

    ChoiceProblem widened = problem;
    const ChoiceCheck check = check_choice(problem, least.choice);
    for (std::size_t r = 0; r < widened.resource_count(); ++r) {
        const bool hard = !std::isfinite(problem.resources.overrun_price[r]);
        if (hard && check.overrun[r] > 0.0) widened.resources.capacity[r] = check.use[r];
    }
    own.start_prices = options.start_prices;
    own.start_choice = least.choice;
    own.time_limit_s = std::max(0.0, options.time_limit_s - seconds_since(start));
    Solution out = plain(widened, own);
    const ChoiceCheck after = check_choice(problem, out.choice);
    out.overrun.assign(problem.resource_count(), 0.0);
    out.weighted_overrun = 0.0;
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        if (std::isfinite(problem.resources.overrun_price[r]) || after.overrun[r] <= 0.0) continue;
        out.overrun[r] = after.overrun[r];
        out.weighted_overrun += after.overrun[r] * problem.resources.overrun_weight[r];
    }
    out.weighted_overrun_bound = std::min(std::max(0.0, least.bound), out.weighted_overrun);
    if (out.weighted_overrun > 0.0) out.status = SolveStatus::overrun;
    return out;
}

}  // namespace lagline
