// The problem itself: what is wrong with it, and a choice judged by hand.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_problem.h"
#include "choice/components.h"

using namespace lagline;

namespace {

/// Two units that share a scaffold (cost 5, 2 hours) in one window; budget 20, hours 10.
ChoiceProblem shared_scaffold() {
    ChoiceProblem problem;
    problem.add_resource(20.0);
    problem.add_resource(10.0);
    const std::vector<Use> scaffold = {{0, 5.0}, {1, 2.0}};
    problem.add_access(0, 5.0, scaffold);
    for (const double price : {8.0, 7.0}) {
        problem.add_unit();
        problem.add_strategy({30.0, 0, {}, {}});
        problem.add_strategy({price + 1.0, 1, {{0, price}, {1, 4.0}}, {0}});
    }
    return problem;
}

std::vector<std::string> subjects(const Report& report) {
    std::vector<std::string> all;
    for (const Diagnostic& diagnostic : report.diagnostics()) all.push_back(diagnostic.subject);
    return all;
}

}  // namespace

TEST_CASE("a scaffold is paid once, and hours and money are added up") {
    const ChoiceProblem problem = shared_scaffold();
    REQUIRE(validate(problem).ok());
    const ChoiceCheck both = check_choice(problem, std::vector<StrategyIndex>{1, 3});
    CHECK(both.feasible());
    CHECK(both.objective() == 9.0 + 8.0 + 5.0);
    CHECK(both.accesses_paid == 1);
    CHECK(both.use == std::vector<double>{20.0, 10.0});
    const ChoiceCheck none = check_choice(problem, std::vector<StrategyIndex>{0, 2});
    CHECK(none.objective() == 60.0);
    CHECK(none.access_cost == 0.0);
    CHECK(none.use == std::vector<double>{0.0, 0.0});
}

TEST_CASE("what does not fit is told by how much, and costs where the overrun has a price") {
    ChoiceProblem problem = shared_scaffold();
    problem.resources.capacity = {18.0, 10.0};
    const std::vector<StrategyIndex> both = {1, 3};
    ChoiceCheck check = check_choice(problem, both);
    CHECK_FALSE(check.fits);
    CHECK(check.overrun == std::vector<double>{2.0, 0.0});
    problem.resources.overrun_price[0] = 1.5;
    check = check_choice(problem, both);
    CHECK(check.feasible());
    CHECK(check.overrun_cost == 3.0);
    CHECK(check.objective() == 25.0);
}

TEST_CASE("a choice with another unit's strategy, or too short, is not complete") {
    const ChoiceProblem problem = shared_scaffold();
    CHECK_FALSE(check_choice(problem, std::vector<StrategyIndex>{1, 1}).complete);
    CHECK_FALSE(check_choice(problem, std::vector<StrategyIndex>{1}).feasible());
}

TEST_CASE("a bundle holds only where its units follow one pattern") {
    ChoiceProblem problem = shared_scaffold();
    problem.units.bundle = {4, 4};
    CHECK(check_choice(problem, std::vector<StrategyIndex>{1, 3}).bundles_hold);
    CHECK(check_choice(problem, std::vector<StrategyIndex>{0, 2}).bundles_hold);
    CHECK_FALSE(check_choice(problem, std::vector<StrategyIndex>{0, 3}).feasible());
}

TEST_CASE("everything that is wrong with a problem is reported at once") {
    ChoiceProblem problem = shared_scaffold();
    problem.resources.capacity[1] = -1.0;
    problem.resources.overrun_weight[0] = 0.0;
    problem.access.cost[0] = std::numeric_limits<double>::infinity();
    problem.strategies.cost[2] = std::nan("");
    problem.strategies.use.amount[0] = -8.0;
    problem.strategies.use.resource[1] = 9;
    problem.strategies.needs.index[1] = 3;
    problem.add_unit();
    CHECK(subjects(validate(problem)) ==
          std::vector<std::string>{"resource 0", "resource 1", "access 0", "strategy 1",
                                   "strategy 1", "strategy 2", "strategy 3", "unit 2"});
}

TEST_CASE("a bundle without a common pattern is refused") {
    ChoiceProblem problem = shared_scaffold();
    problem.units.bundle = {4, 4};
    problem.strategies.pattern = {0, 1, 2, 3};
    const Report report = validate(problem);
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics().front().problem == Problem::contradiction);
    CHECK(report.diagnostics().front().subject == "bundle 4");
}

TEST_CASE("units that share an access or a bundle are one component, others are not") {
    ChoiceProblem problem = shared_scaffold();
    problem.add_unit();
    problem.add_strategy({1.0, 0, {}, {}});
    CHECK(components_of(problem, 10).size() == 2);
    problem.units.bundle = {no_bundle, 2, 2};
    CHECK(components_of(problem, 10).size() == 1);
    problem.add_access(1, 3.0);
    problem.strategies.needs.index.push_back(1);
    problem.strategies.needs.first.back() = 3;
    // Two accesses in one component: more than one is too many, so the bundle comes apart.
    const Components apart = components_of(problem, 1);
    CHECK(apart.size() == 2);
    CHECK(apart.relaxed_bundles == 1);
    CHECK(apart.shared_accesses == 0);
}

TEST_CASE("the problem with only some strategies keeps all else") {
    const ChoiceProblem problem = shared_scaffold();
    const ReducedProblem only = with_only(problem, std::vector<std::uint8_t>{0, 1, 1, 1});
    CHECK(only.kept == std::vector<StrategyIndex>{1, 2, 3});
    CHECK(only.problem.unit_count() == 2);
    const ChoiceCheck check = check_choice(only.problem, std::vector<StrategyIndex>{0, 2});
    CHECK(check.objective() == 22.0);
    CHECK(check.use == std::vector<double>{20.0, 10.0});
}
