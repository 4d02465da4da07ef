// Prints mid-size problems with our exact answers, for second_solver.py to compare with.
#include <algorithm>
#include <iostream>
#include <string>
#include <string_view>

#include "blocks/number_text.h"
#include "choice/choice_solver.h"
#include "choice/generalised_assignment.h"
#include "choice/plan_instance.h"
#include "choice/problem_text.h"
#include "choice/random_problem.h"

using namespace lagline;
using namespace choice_test;

namespace {

std::string_view word_of(SolveStatus status) {
    switch (status) {
        case SolveStatus::proven:
            return "proven";
        case SolveStatus::stopped:
            return "stopped";
        case SolveStatus::overrun:
            return "overrun";
        case SolveStatus::none_found:
            return "none";
    }
    return "";
}

/// Overruns at their charge beside the costs, so that the second solver finds the least of both.
ChoiceProblem overrun_charged(ChoiceProblem problem) {
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        problem.resources.overrun_price[r] =
            problem.resources.overrun_charge * problem.resources.overrun_weight[r];
    }
    return problem;
}

void print(const std::string& name, const ChoiceProblem& problem) {
    SolveOptions options;
    options.gap = 0.0;
    options.time_limit_s = 120.0;
    const Solution found = solve_by_prices(problem, options);
    std::cout << "case " << name << ' ' << word_of(found.status) << ' '
              << exact_number(found.objective) << ' ' << exact_number(found.bound) << '\n';
    write_problem(std::cout, problem);
    if (found.status != SolveStatus::overrun) return;
    std::cout << "case charged-overrun-of-" << name << " proven " << exact_number(found.objective)
              << ' ' << exact_number(found.bound) << '\n';
    write_problem(std::cout, overrun_charged(problem));
}

}  // namespace

int main() {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        const std::string number = std::to_string(seed);
        PlanRecipe recipe;
        recipe.seed = seed;
        recipe.segments = 40;
        recipe.bundle_share = seed % 2 == 0 ? 0.4 : 0.0;
        recipe.budget_share = 0.2;
        recipe.hours_share = 0.15;
        recipe.windows = 2 + seed % 3;
        print("plan-" + number, plan_instance(recipe));
        recipe.compulsory_share = 0.9;
        recipe.budget_share = 0.01;
        recipe.bundle_share = 0.0;
        print("crowded-" + number, plan_instance(recipe));
        print("assignment-5x40-" + number, problem_of(made_assignment(5, 40, seed), 1.0));
    }
    for (std::uint64_t number = 0; number < 220; ++number) {
        ChoiceProblem problem = choice_test::random_problem(number);
        // The answer then has one form only: within the limits, or not at all.
        for (double& price : problem.resources.overrun_price)
            price = std::numeric_limits<double>::infinity();
        print("random-" + std::to_string(number), problem);
    }
    return 0;
}
