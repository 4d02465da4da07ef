// More of a resource never makes the answer worse, and no bound lies above what another way finds.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_solver.h"
#include "choice/integer_program.h"
#include "choice/plan_instance.h"
#include "choice/random_problem.h"

namespace choice_test {

using namespace lagline;

namespace {

constexpr std::array factors{1.0, 1.5, 2.5, 4.0};

SolveOptions solved_to(double gap) {
    SolveOptions options;
    options.gap = gap;
    options.threads = 1;
    options.time_limit_s = 1e6;
    return options;
}

ChoiceProblem scaled(const ChoiceProblem& problem, double factor) {
    ChoiceProblem out = problem;
    for (double& capacity : out.resources.capacity) capacity *= factor;
    return out;
}

struct Seen {
    std::size_t did_not_fit = 0;
    std::size_t came_to_fit = 0;
};

/// The objectives at growing capacities; each is no worse than that before, but for its gap.
void check_growth(const ChoiceProblem& problem, double gap, Seen& seen) {
    double before = std::numeric_limits<double>::infinity();
    bool fitted = false;
    for (const double factor : factors) {
        CAPTURE(factor);
        const Solution found = solve_by_prices(scaled(problem, factor), solved_to(gap));
        REQUIRE(!found.choice.empty());
        const bool fits = found.status != SolveStatus::overrun;
        CHECK((fits || !fitted));
        const double slack = (gap + 1e-6) * std::max(1.0, std::abs(found.objective));
        CHECK(found.objective <= before + slack);
        if (!fits) ++seen.did_not_fit;
        if (fits && !fitted && factor > factors.front()) ++seen.came_to_fit;
        fitted = fits;
        before = found.objective;
    }
}

}  // namespace

TEST_CASE("a larger capacity never makes the objective worse") {
    Seen seen;
    for (std::uint64_t number = 0; number < 200; ++number) {
        CAPTURE(number);
        check_growth(scaled(random_problem(number), 0.4), 0.0, seen);
    }
    // The draw is no use if everything fits, or nothing ever comes to fit.
    CHECK(seen.did_not_fit >= 100);
    CHECK(seen.came_to_fit >= 30);
}

TEST_CASE("larger budgets never make a plan of 1200 segments worse") {
    PlanRecipe recipe;
    recipe.segments = 1200;
    recipe.seed = 3;
    recipe.compulsory_share = 0.3;
    recipe.budget_share = 0.02;
    recipe.hours_share = 0.2;
    Seen seen;
    check_growth(plan_instance(recipe), 1e-3, seen);
    CHECK(seen.did_not_fit >= 1);
}

TEST_CASE("a bound under a cutoff is no higher than a choice that exists below it") {
    std::size_t below = 0;
    for (std::uint64_t number = 0; number < 400; ++number) {
        CAPTURE(number);
        const ChoiceProblem problem = random_problem(number);
        const Solution second = solve_by_prices(problem, solved_to(0.0));
        if (second.status != SolveStatus::proven) continue;
        const std::vector<std::uint8_t> all(problem.strategy_count(), 1);
        const IntegerProgram program = integer_program(problem, all);
        for (const double rise : {1e-4, 1e-3, 0.05}) {
            CAPTURE(rise);
            IntegerOptions options;
            options.has_cutoff = true;
            options.cutoff = second.objective + rise * (1.0 + std::abs(second.objective));
            options.time_limit_s = 1e6;
            const IntegerResult found = solve_integer(program, options);
            const double rounding = 1e-6 * (1.0 + std::abs(second.objective));
            REQUIRE(found.finished);
            CHECK((!found.has_bound || found.bound <= second.objective + rounding));
            CHECK(!found.choice.empty());
            ++below;
        }
    }
    CHECK(below >= 300);
}

}  // namespace choice_test
