// Published instances with known optima, through the same interface as a plan.
#include <doctest/doctest.h>

#include <cstdint>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_solver.h"
#include "choice/generalised_assignment.h"

using namespace lagline;
using namespace choice_test;

namespace {

SolveOptions exact() {
    SolveOptions options;
    options.gap = 0.0;
    options.threads = 1;
    return options;
}

struct Knapsack {
    std::string_view name;
    double capacity;
    std::vector<double> weights;
    std::vector<double> profits;
    double optimum;
    std::string_view selection;
};

// J. Burkardt, "KNAPSACK_01: data for the 01 knapsack problem".  Capacities and that solutions
// exist were read there; items recalled; optima and selections worked out anew by dynamic
// programming.
const std::vector<Knapsack>& knapsacks() {
    static const std::vector<Knapsack> all = {
        {"P01",
         165,
         {23, 31, 29, 44, 53, 38, 63, 85, 89, 82},
         {92, 57, 49, 68, 60, 43, 67, 84, 87, 72},
         309,
         "1111010000"},
        {"P02", 26, {12, 7, 11, 8, 9}, {24, 13, 23, 15, 16}, 51, "01110"},
        {"P03", 190, {56, 59, 80, 64, 75, 17}, {50, 50, 64, 46, 50, 5}, 150, "110010"},
        {"P04", 50, {31, 10, 20, 19, 4, 3, 6}, {70, 20, 39, 37, 7, 5, 10}, 107, "1001000"},
        {"P05",
         104,
         {25, 35, 45, 5, 25, 3, 2, 2},
         {350, 400, 450, 20, 70, 8, 5, 5},
         900,
         "10111011"},
        {"P06",
         170,
         {41, 50, 49, 59, 55, 57, 60},
         {442, 525, 511, 593, 546, 564, 617},
         1735,
         "0101001"}};
    return all;
}

ChoiceProblem problem_of(const Knapsack& knapsack) {
    ChoiceProblem problem;
    problem.add_resource(knapsack.capacity);
    for (std::size_t i = 0; i < knapsack.weights.size(); ++i) {
        problem.add_unit();
        problem.add_strategy({});
        problem.add_strategy({-knapsack.profits[i], 0, {{0, knapsack.weights[i]}}, {}});
    }
    return problem;
}

}  // namespace

TEST_CASE("0-1 knapsack sets P01 to P06 have their published optima and selections") {
    for (const Knapsack& knapsack : knapsacks()) {
        CAPTURE(knapsack.name);
        const ChoiceProblem problem = problem_of(knapsack);
        for (const auto solver : {solve_by_prices, solve_whole}) {
            const Solution found = solver(problem, exact());
            CHECK(found.status == SolveStatus::proven);
            CHECK(found.objective == -knapsack.optimum);
            std::string selection;
            for (UnitIndex unit = 0; unit < found.choice.size(); ++unit) {
                selection += found.choice[unit] == problem.begin(unit) ? '0' : '1';
            }
            CHECK(selection == knapsack.selection);
        }
    }
}

TEST_CASE("OR-Library generalised assignment gap1 (c515-1 to c515-5) has its published optima") {
    // Beasley, OR-Library, file gap1 (MIT licence): maximise, sizes 5 x 15; optima of gapinfo.
    const std::vector<double> optima = {336, 327, 339, 341, 326};
    std::ifstream file(LAGLINE_SOURCE_DIR "/tests/choice/data/gap1.txt");
    const auto instances = read_assignments(file);
    REQUIRE(instances.size() == optima.size());
    for (std::size_t i = 0; i < optima.size(); ++i) {
        CAPTURE(i);
        const ChoiceProblem problem = problem_of(instances[i], -1.0);
        for (const auto solver : {solve_by_prices, solve_whole}) {
            const Solution found = solver(problem, exact());
            CHECK(found.status == SolveStatus::proven);
            CHECK(-found.objective == optima[i]);
        }
    }
}
