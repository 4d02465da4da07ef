// Against every choice there is, on hundreds of random small problems.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_solver.h"
#include "choice/components.h"
#include "choice/exhaustive.h"
#include "choice/priced_components.h"
#include "choice/random_problem.h"
#include "choice/sensitivity.h"
#include "synthesis/dice.h"

using namespace lagline;
using namespace choice_test;

namespace {

constexpr std::uint64_t problems = 600;

SolveOptions exact() {
    SolveOptions options;
    options.gap = 0.0;
    options.threads = 1;
    options.time_limit_s = 1e6;
    return options;
}

double near(double value) { return 1e-6 * (1.0 + std::abs(value)); }

void check_against(const Exhaustive& best, const ChoiceProblem& problem, const Solution& found) {
    const ChoiceCheck check = check_choice(problem, found.choice);
    REQUIRE(check.complete);
    CHECK(check.bundles_hold);
    if (best.feasible) {
        CHECK(found.status == SolveStatus::proven);
        CHECK(check.fits);
        CHECK(found.objective == check.objective());
        CHECK(std::abs(found.objective - best.objective) <= near(best.objective));
        CHECK(found.bound <= best.objective + 1e-9 * std::abs(best.objective));
        CHECK(found.gap <= 1e-6);
        return;
    }
    CHECK(found.status == SolveStatus::overrun);
    CHECK(std::abs(found.objective - best.charged) <= near(best.charged));
    CHECK(found.bound <= best.charged + near(best.charged));
    CHECK(found.weighted_overrun >= best.weighted_overrun - near(best.weighted_overrun));
    CHECK(found.weighted_overrun_bound <= best.weighted_overrun + near(best.weighted_overrun));
    CHECK(found.weighted_overrun_bound > 0.0);
}

}  // namespace

TEST_CASE("the optimum and the least overrun are those of trying every choice") {
    std::size_t infeasible = 0;
    std::size_t bundled = 0;
    std::size_t relaxed_bundles = 0;
    std::size_t shared_accesses = 0;
    for (std::uint64_t number = 0; number < problems; ++number) {
        CAPTURE(number);
        const ChoiceProblem problem = random_problem(number);
        REQUIRE(validate(problem).ok());
        const Exhaustive best = try_all(problem);
        if (!best.feasible) ++infeasible;
        if (bundles_of(problem).size() > 0) ++bundled;
        check_against(best, problem, solve_by_prices(problem, exact()));
        if (number % 6 == 0) check_against(best, problem, solve_whole(problem, exact()));
        if (number % 2 == 0) continue;
        SolveOptions relaxed = exact();
        relaxed.most_accesses = 1 + number % 5;
        const Solution found = solve_by_prices(problem, relaxed);
        check_against(best, problem, found);
        relaxed_bundles += found.counters.relaxed_bundles;
        shared_accesses += found.counters.shared_accesses;
    }
    // The set holds what it is meant to hold.
    CHECK(infeasible > 50);
    CHECK(infeasible < problems / 2);
    CHECK(bundled > 100);
    CHECK(relaxed_bundles > 5);
    CHECK(shared_accesses > 50);
}

TEST_CASE("at any prices the priced bound is below the optimum, and so is a forced strategy's") {
    Dice dice(11, Subject::segment, 0);
    for (std::uint64_t number = 0; number < 200; ++number) {
        CAPTURE(number);
        const ChoiceProblem problem = random_problem(number);
        const Exhaustive best = try_all(problem);
        if (!best.feasible) continue;
        PricedComponents components(problem, 1, number % 2 == 0 ? 10 : 2);
        std::vector<double> prices;
        for (std::size_t r = 0; r < problem.resource_count(); ++r) {
            const double price = 3.0 * dice.share();
            const bool endless = std::isinf(problem.resources.capacity[r]);
            prices.push_back(endless ? 0.0 : std::min(price, problem.resources.overrun_price[r]));
        }
        PricedChoice at;
        components.solve(prices, at);
        CHECK(at.proven() <= best.objective + near(0.0));
        std::vector<double> rise;
        components.reduced_costs(prices, rise);
        for (StrategyIndex s = 0; s < problem.strategy_count(); ++s) {
            CAPTURE(s);
            CHECK(at.proven() + rise[s] <= best.objective_with[s] + near(best.objective));
        }
    }
}

TEST_CASE("without limits the components at price 0 are the optimum, and reduced costs are exact") {
    for (std::uint64_t number = 0; number < 200; ++number) {
        CAPTURE(number);
        ChoiceProblem problem = random_problem(number);
        std::ranges::fill(problem.resources.capacity, std::numeric_limits<double>::infinity());
        const Exhaustive best = try_all(problem);
        REQUIRE(best.feasible);
        PricedComponents components(problem, 1);
        const std::vector<double> prices(problem.resource_count(), 0.0);
        PricedChoice at;
        components.solve(prices, at);
        CHECK(at.value == doctest::Approx(best.objective).epsilon(1e-12));
        CHECK(at.proven() <= best.objective);
        CHECK(check_choice(problem, at.choice).objective() == doctest::Approx(best.objective));
        std::vector<double> rise;
        components.reduced_costs(prices, rise);
        for (StrategyIndex s = 0; s < problem.strategy_count(); ++s) {
            CAPTURE(s);
            const double truth = best.objective_with[s] - best.objective;
            if (std::isinf(truth)) {
                CHECK(std::isinf(rise[s]));
            } else {
                CHECK(rise[s] == doctest::Approx(truth).epsilon(1e-9));
            }
        }
    }
}
