// The plan as a whole, on the sample plant.
#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "intake/load_plant.h"
#include "made_plan.h"
#include "report/plan_data.h"
#include "support/rules.h"

namespace lagline {
namespace {

using S = SegmentField;

TEST_CASE("the optimiser's objective is what the strategies add up to without it") {
    const Plan& plan = sample_plan().made.plan;
    REQUIRE(!plan.solution.choice.empty());
    CHECK(plan.totals.value() ==
          doctest::Approx(plan.solution.objective).epsilon(1e-9));  // sums of doubles
    CHECK(plan.solution.bound <= plan.solution.objective);
    CHECK(plan.solution.gap <= sample_gap);
    CHECK(plan.left.cost == 0.0);
}

TEST_CASE("the plan keeps every budget and every craft's hours") {
    const Plan& plan = sample_plan().made.plan;
    REQUIRE(plan.solution.status == SolveStatus::proven);
    CHECK(overruns(plan.totals, plan.windows).empty());
    // The limits are there, and at least one of them binds.
    REQUIRE(std::isfinite(plan.windows.front().budget));
    CHECK(std::ranges::any_of(plan.solution.shadow_price, [](double price) { return price > 0; }));
}

TEST_CASE("the plan beats spending in order of rank, of age and at a fixed interval") {
    const Plan& plan = sample_plan().made.plan;
    REQUIRE(plan.others.size() == 4);
    for (const SpendingResult& other : plan.others) {
        CAPTURE(describe(other.order));
        CHECK(overruns(other.totals, plan.windows).empty());  // the same limits
        CHECK(other.totals.spent() > 0.5 * plan.totals.spent());
        CHECK(plan.totals.value() < other.totals.value());
    }
    CHECK(plan.totals.value() < plan.left.value());
}

TEST_CASE("what must be opened is opened in time, and a test pack goes together") {
    const SamplePlan& sample = sample_plan();
    const Plan& plan = sample.made.plan;
    std::size_t compulsory = 0;
    std::map<std::string_view, std::vector<std::size_t>> packs;
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        const Strategy& strategy = plan.strategies.all[plan.segments[row].strategy];
        const std::uint32_t segment = plan.segments[row].segment_row;
        if (sample.plant.segments.has(S::test_pack, segment)) {
            packs[sample.plant.segments.texts(S::test_pack)[segment]].push_back(
                strategy.acts ? strategy.window + std::size_t{1} : 0);
        }
        const Deadline& deadline = plan.deadlines[row];
        if (!deadline.window || !deadline.can_be_met) continue;
        ++compulsory;
        CAPTURE(row);
        CHECK(strategy.opens());
        CHECK(strategy.window <= *deadline.window);
    }
    CHECK(compulsory > 10);
    CHECK(plan.packs_apart.empty());
    CHECK(packs.size() > 2);
    for (const auto& [pack, windows] : packs) {
        CAPTURE(pack);
        CHECK(std::ranges::count(windows, windows.front()) ==
              static_cast<std::ptrdiff_t>(windows.size()));
    }
}

TEST_CASE("waiting costs nothing or more, near misses are left and fall short") {
    const Plan& plan = sample_plan().made.plan;
    const double rounding = 1e-6 * plan.solution.objective;
    std::size_t acting = 0;
    for (const PlannedSegment& segment : plan.segments) {
        const bool acts = plan.strategies.all[segment.strategy].acts;
        CHECK(segment.cost_of_waiting.has_value() == acts);
        acting += acts ? 1U : 0U;
    }
    CHECK(acting == plan.totals.treated);
    REQUIRE(plan.near_misses.size() == 10);
    for (const NearMiss& miss : plan.near_misses) {
        CHECK(!plan.strategies.all[plan.segments[miss.row].strategy].acts);
        CHECK(miss.short_by >= -rounding - plan.solution.gap * plan.solution.objective);
        // What it lacks is made of what it costs, takes from others and saves, and of a scaffold.
        CHECK(miss.short_by <=
              miss.cost + miss.scarce - miss.saves + 0.1 * plan.solution.objective);
    }
}

TEST_CASE("more budget never leaves more to pay in sum") {
    const Plan& plan = sample_plan().made.plan;
    REQUIRE(plan.sweep.size() == 5);
    double before = std::numeric_limits<double>::infinity();
    for (const BudgetPoint& point : plan.sweep) {
        CAPTURE(point.factor);
        if (point.fits) {
            CHECK(point.value <= before * (1.0 + point.gap));
            CHECK(point.spent <= point.budget * (1.0 + 1e-9));
            before = point.value;
        }
    }
    CHECK(plan.sweep.front().factor == 0.0);
    CHECK(plan.sweep.back().factor == 2.0);
    CHECK(std::isfinite(before));
}

TEST_CASE("the plan is the same bytes on any number of threads and any block") {
    const SamplePlan& sample = sample_plan();
    const RuleSet& rules = extended_rules();
    PlanOptions options = without_curve();
    options.gap = sample_gap;
    const auto csv = [&](const WorkPlan& work) {
        return plan_csv(sample.plant, rules, planned(sample.plant, rules, options, work).plan);
    };
    const std::string one = csv({.block_rows = 1024, .threads = 1});
    CHECK(one == csv({.block_rows = 7, .threads = 3}));
    CHECK(one == plan_csv(sample.plant, rules, sample.made.plan));
}

TEST_CASE("nothing but the price list is needed: the published rules plan too") {
    const SamplePlan& sample = sample_plan();
    const RuleSet& rules = published_rules();
    LoadedPlant loaded =
        load_plant(sample.plant.folder, rules,
                   {.at = std::nullopt, .today = make_date(2026, 11, 25), .plan = {}});
    REQUIRE(loaded.plant);
    PlanOptions options = without_curve();
    options.gap = sample_gap;
    const Plan plan = planned(*loaded.plant, rules, options).plan;
    CHECK(plan.totals.treated > 0);
    CHECK(plan.totals.value() < plan.left.value());
}

}  // namespace
}  // namespace lagline
