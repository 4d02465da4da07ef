// What a solver tells beside the choice: gap, prices, overruns, counters; and that it always tells
// the same.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_solver.h"
#include "choice/plan_instance.h"
#include "choice/random_problem.h"
#include "choice/sensitivity.h"

using namespace lagline;
using namespace choice_test;

namespace {

ChoiceProblem plan(std::size_t segments, double bundle_share = 0.0) {
    PlanRecipe recipe;
    recipe.segments = segments;
    recipe.bundle_share = bundle_share;
    return plan_instance(recipe);
}

SolveOptions with_gap(double gap, unsigned threads = 1) {
    SolveOptions options;
    options.gap = gap;
    options.threads = threads;
    options.time_limit_s = 300.0;
    return options;
}

/// Two units that must be worked on in window 0 (budget 10) or window 1 (budget 3).
ChoiceProblem crowded() {
    ChoiceProblem problem;
    problem.add_resource(10.0, 2.0);
    problem.add_resource(3.0, 5.0);
    for (const double price : {8.0, 7.0}) {
        problem.add_unit();
        problem.add_strategy({price, 1, {{0, price}}, {}});
        problem.add_strategy({price - 1.0, 2, {{1, price}}, {}});
    }
    return problem;
}

}  // namespace

TEST_CASE("the same bytes for one thread and for several") {
    for (const double bundles : {0.0, 0.3}) {
        const ChoiceProblem problem = plan(400, bundles);
        const Solution one = solve_by_prices(problem, with_gap(2e-3, 1));
        CHECK(one.status == SolveStatus::proven);
        for (const unsigned threads : {2U, 3U}) {
            const Solution other = solve_by_prices(problem, with_gap(2e-3, threads));
            CHECK(other.choice == one.choice);
            CHECK(other.objective == one.objective);
            CHECK(other.bound == one.bound);
            CHECK(other.shadow_price == one.shadow_price);
            CHECK(other.counters.price_evaluations == one.counters.price_evaluations);
            CHECK(other.counters.integer_nodes == one.counters.integer_nodes);
        }
    }
}

TEST_CASE("when nothing fits, the resource and the least overrun are told") {
    // Both in window 0 takes 15 of 10: 5 over at weight 2 = 10.  Any other way is dearer: 8 in
    // window 1 is 5 over at weight 5 = 25, 7 there is 4 over = 20.
    const Solution found = solve_by_prices(crowded(), with_gap(0.0));
    CHECK(found.status == SolveStatus::overrun);
    CHECK(found.choice == std::vector<StrategyIndex>{0, 2});
    CHECK(found.overrun == std::vector<double>{5.0, 0.0});
    CHECK(found.weighted_overrun == doctest::Approx(10.0).epsilon(1e-9));
    CHECK(found.weighted_overrun_bound == doctest::Approx(10.0).epsilon(1e-6));
    CHECK(found.objective == doctest::Approx(15.0 + 1000.0 * 10.0).epsilon(1e-12));
    // Halving the first weight's distance turns it round: weights 5 and 1 send the 7 to window 1.
    ChoiceProblem turned = crowded();
    turned.resources.overrun_weight = {5.0, 1.0};
    const Solution other = solve_by_prices(turned, with_gap(0.0));
    CHECK(other.overrun == std::vector<double>{0.0, 4.0});
    CHECK(other.weighted_overrun == doctest::Approx(4.0).epsilon(1e-9));
}

TEST_CASE("a gap that was not proven is told as it is") {
    const ChoiceProblem problem = plan(500);
    SolveOptions options = with_gap(0.0);
    options.time_limit_s = 0.2;
    const Solution hasty = solve_by_prices(problem, options);
    const Solution good = solve_by_prices(problem, with_gap(2e-3));
    REQUIRE(good.status == SolveStatus::proven);
    CHECK(hasty.status == SolveStatus::stopped);
    CHECK(hasty.bound <= good.objective);
    CHECK(hasty.gap == gap_of(hasty.objective, hasty.bound));
    CHECK(hasty.gap > 0.0);
    CHECK(hasty.objective == check_choice(problem, hasty.choice).objective());
}

TEST_CASE("the caller can stop the solver") {
    SolveOptions options = with_gap(0.0);
    std::size_t calls = 0;
    options.progress = [&calls](const SolveProgress& progress) {
        ++calls;
        return !std::isfinite(progress.objective);
    };
    const Solution found = solve_by_prices(plan(300), options);
    CHECK(calls > 1);
    CHECK(found.status == SolveStatus::stopped);
    CHECK(found.counters.integer_calls == 0);
}

TEST_CASE("gap_of") {
    CHECK(gap_of(100.0, 99.0) == doctest::Approx(0.01));
    CHECK(gap_of(-99.0, -100.0) == doctest::Approx(1.0 / 99.0));
    CHECK(gap_of(0.0, 0.0) == 0.0);
    CHECK(std::isinf(gap_of(0.0, -1.0)));
    CHECK(std::isinf(gap_of(1.0, -std::numeric_limits<double>::infinity())));
}

TEST_CASE("shadow prices are money saved per unit of capacity") {
    const ChoiceProblem problem = plan(2000);
    const Solution base = solve_by_prices(problem, with_gap(1e-3));
    REQUIRE(base.status == SolveStatus::proven);
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        CAPTURE(r);
        CHECK(base.shadow_price[r] >= 0.0);
        const auto check = check_choice(problem, base.choice);
        if (check.use[r] < 0.97 * problem.resources.capacity[r]) CHECK(base.shadow_price[r] == 0.0);
    }
    REQUIRE(base.shadow_price[0] > 0.0);
    ChoiceProblem more = problem;
    const double step = 0.05 * problem.resources.capacity[0];
    more.resources.capacity[0] += step;
    const Solution better = solve_by_prices(more, with_gap(1e-4));
    const double predicted = step * base.shadow_price[0];
    // The bound is concave in the capacity: no step saves more than the price says.
    CHECK(better.objective >= base.bound - predicted);
    CHECK(base.objective - better.objective > 0.7 * predicted);
}

TEST_CASE("a sweep of the budgets: more money, less cost") {
    const ChoiceProblem problem = plan(200);
    const std::vector<ResourceIndex> budgets = {0, 2, 4, 6};
    std::vector<double> factors;
    for (int i = 1; i <= 20; ++i) factors.push_back(0.15 * i);
    const auto points = sweep_capacities(problem, budgets, factors, with_gap(1e-2));
    REQUIRE(points.size() == 20);
    for (std::size_t i = 1; i < points.size(); ++i) {
        CAPTURE(i);
        const Solution& before = points[i - 1].solution;
        const Solution& here = points[i].solution;
        CHECK(here.status == SolveStatus::proven);
        CHECK(here.objective <= before.objective);
        CHECK(here.bound <= before.objective);
    }
    CHECK(points.back().solution.objective < 0.9 * points.front().solution.objective);
    const Solution alone = solve_by_prices(problem, with_gap(1e-2));
    // Factor 1.05 against 1.
    CHECK(points[6].solution.bound <= alone.objective);
}

TEST_CASE("regret: what forcing a strategy costs at least, and what it costs in truth") {
    const ChoiceProblem problem = plan(48);
    const Solution base = solve_by_prices(problem, with_gap(1e-3));
    REQUIRE(base.status == SolveStatus::proven);
    const Regrets all = regrets(problem, base.shadow_price, base.choice);
    std::size_t dear = 0;
    for (UnitIndex unit = 0; unit < 5; ++unit) {
        CAPTURE(unit);
        const StrategyIndex other = base.choice[unit] == problem.begin(unit)
                                        ? problem.begin(unit) + 1
                                        : problem.begin(unit);
        const Solution forced = solve_with_forced(problem, unit, other, base, with_gap(1e-3));
        REQUIRE_FALSE(forced.choice.empty());
        CHECK(forced.choice[unit] == other);
        CHECK(check_choice(problem, forced.choice).objective() ==
              doctest::Approx(forced.objective));
        CHECK(forced.objective >=
              all.priced_bound + all.of_strategy[other] - 1e-9 * base.objective);
        CHECK(forced.objective >= base.bound);
        if (all.of_strategy[other] > 1e-2 * base.objective / 48.0) ++dear;
        CHECK(all.of_unit[unit] <= all.of_strategy[other] - all.of_strategy[base.choice[unit]]);
    }
    CHECK(dear > 0);
}
