#include "choice/choice_solver.h"

#include <algorithm>
#include <chrono>

#include "choice/decomposition.h"
#include "choice/incumbent.h"
#include "choice/integer_program.h"
#include "choice/least_overrun.h"

namespace lagline {
namespace {

Solution decomposed(const ChoiceProblem& problem, const SolveOptions& options) {
    return run_decomposition(problem, options).solution;
}

Solution whole(const ChoiceProblem& problem, const SolveOptions& options) {
    Incumbent incumbent(problem, options);
    const std::vector<std::uint8_t> all(problem.strategy_count(), 1);
    IntegerOptions integer;
    integer.relative_gap = 0.999 * options.gap;
    integer.time_limit_s = options.time_limit_s;
    const IntegerResult result = solve_integer(integer_program(problem, all), integer);
    if (!result.choice.empty()) incumbent.offer(result.choice);
    if (result.has_bound) incumbent.raise_bound(result.bound);
    Solution out;
    incumbent.write(out);
    out.shadow_price.assign(problem.resource_count(), 0.0);
    out.overrun.assign(problem.resource_count(), 0.0);
    out.counters.integer_calls = 1;
    out.counters.integer_nodes = result.nodes;
    out.counters.free_strategies = problem.strategy_count();
    return out;
}

Solution solve(const ChoiceProblem& problem, const SolveOptions& options,
               const PlainSolver& plain) {
    const auto start = std::chrono::steady_clock::now();
    Solution first = plain(problem, options);
    if (!first.choice.empty()) return first;
    SolveOptions left = options;
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
    left.time_limit_s = std::max(0.0, options.time_limit_s - spent.count());
    left.start_prices.clear();
    return solve_with_least_overrun(problem, left, plain).value_or(first);
}

}  // namespace

Solution solve_by_prices(const ChoiceProblem& problem, const SolveOptions& options) {
    return solve(problem, options, decomposed);
}

Solution solve_whole(const ChoiceProblem& problem, const SolveOptions& options) {
    return solve(problem, options, whole);
}

}  // namespace lagline
