// What work costs, against sums by hand.
#include <doctest/doctest.h>

#include <cmath>
#include <memory>

#include "made_plan.h"
#include "planning/actions.h"
#include "support/rules.h"

namespace lagline {
namespace {

/// One segment of NPS 6, 20 m, 2 fittings, 6 m up, with the prices of the site.
SmallPlant priced_plant(const Cells& changes = {}) {
    Cells cells{{"length", "20 m"},
                {"fittings", "2"},
                {"elevation", "6 m"},
                {"coating_date", "2000-01-01"}};
    for (const auto& [key, text] : changes) cells[key] = text;
    SmallPlant small;
    small.segments = {segment_cells("S-1", cells)};
    small.at = make_date(2025, 1, 1);
    small.description.climate = mild_climate();
    small.description.unit_costs = {
        {"strip_and_reinsulate", {310, "m", {}}}, {"fitting", {185, "fitting", {}}},
        {"inspect_stripped", {50, "m", {}}},      {"screen", {36, "m", {}}},
        {"replace_run", {1450, "m", {}}},         {"scaffold_group", {2600, "each", {}}}};
    small.description.crew_rates = {{"scaffold", {60, "hour", {}}}};
    small.turnarounds = {window_cells("TA", "2026-06-01", "2026-07-01"),
                         window_cells("OS", "2027-06-01", "2027-08-31", {{"kind", "on_stream"}}),
                         window_cells("TA-2", "2029-06-01", "2029-07-01")};
    return small;
}

struct Studied {
    Plant plant;
    Ranking ranking;
    Futures ahead;
    std::vector<PlanWindow> windows;
    std::unique_ptr<ActionPlanner> planner;

    explicit Studied(const SmallPlant& small, const RuleSet& rules = extended_rules())
        : plant(assemble(small, rules)),
          ranking(rank(plant, rules)),
          ahead(futures(plant, rules, ranking)),
          windows(plan_windows(plant, ahead.horizon.years)),
          planner(std::make_unique<ActionPlanner>(plant, rules, ranking, ahead, windows)) {
        planner->start(0);
    }
};

TEST_CASE("the cost of stripping all is that of insulation, fittings, a look and a scaffold") {
    Studied made(priced_plant());
    ActionStudy study = made.planner->study(WorkAction::strip_recoat, 0);
    REQUIRE(study.refusal == ActionRefusal::none);
    // 20 m at 310 and 2 fittings at 185.
    CHECK(study.committed.of(CostPart::insulation) == doctest::Approx(6200 + 370));
    // Run and fittings as length of pipe: 20 m + 2 x 3 x 168.3 mm (rule fitting_length), at 50.
    CHECK(study.committed.of(CostPart::inspection) == doctest::Approx(50 * (20 + 6 * 0.1683)));
    // Hire 2600, and 6 h + 2.5 h/m x 6 m (rules scaffold_fixed, scaffold_per_metre) at 60.
    CHECK(study.committed.of(CostPart::scaffold) == doctest::Approx(2600 + 21 * 60));
    CHECK(study.committed.of(CostPart::coating) == 0.0);  // it is what follows the look
    REQUIRE(study.follow_ups[0] == FollowUp::coat);
    CHECK(study.follow_money[0] == doctest::Approx(study.coating->coating_cost));
    CHECK(study.follow_money[0] > 0.0);
}

TEST_CASE("a shared scaffold is not among the costs of a segment") {
    Studied alone(priced_plant());
    Studied shared(priced_plant({{"scaffold_group", "SG-1"}}));
    ActionStudy own = alone.planner->study(WorkAction::open_part, 0);
    ActionStudy of_group = shared.planner->study(WorkAction::open_part, 0);
    CHECK(own.committed.sum() - of_group.committed.sum() == doctest::Approx(2600 + 21 * 60));
    CHECK(own.quantities.hours_of(Craft::scaffold) == doctest::Approx(21));
    CHECK(of_group.quantities.hours_of(Craft::scaffold) == 0.0);
    // Opening a part: the share opened_share of the rules, 25 %.
    CHECK(of_group.committed.of(CostPart::insulation) == doctest::Approx(0.25 * 6570));
}

TEST_CASE("what follows in the same window pays no scaffold, in a later one it pays its own") {
    constexpr double scaffold = 2600 + 21 * 60;
    constexpr auto place = static_cast<std::size_t>(Craft::scaffold);
    Studied made(priced_plant());
    const ActionStudy now = made.planner->study(WorkAction::open_part, 0);
    Studied later_made(priced_plant());
    // The window after is on stream; that of the last is a shutdown like the first.
    const ActionStudy next = later_made.planner->study(WorkAction::screen, 1);
    REQUIRE(now.follow_ups[1] == FollowUp::strip_recoat);
    REQUIRE(next.follow_ups[1] == FollowUp::strip_recoat);
    REQUIRE(next.follow_window == 2);
    CHECK(next.follow_money[1] - now.follow_money[1] == doctest::Approx(scaffold));
    CHECK(next.follow_money[2] - now.follow_money[2] == doctest::Approx(scaffold));
    for (const std::size_t reaction : {1U, 2U}) {
        CHECK(now.follow_hours[reaction][place] == 0.0);
        CHECK(next.follow_hours[reaction][place] == doctest::Approx(21));
    }
}

TEST_CASE("money of a later window is worth less") {
    Studied made(priced_plant());
    const double now = made.planner->study(WorkAction::replace_run, 0).cost;
    const double later = made.planner->study(WorkAction::replace_run, 2).cost;
    // Three years apart, at 7 % a year (rule discount_rate).
    CHECK(now / later == doctest::Approx(std::pow(1.07, 3.0)).epsilon(1e-9));
    CHECK(now * std::pow(1.07, made.windows[0].at_years) ==
          doctest::Approx(1450 * 20 + 2600 + 21 * 60));
}

TEST_CASE("a run is replaced on stream only where the outage can be priced, and pays for it") {
    Studied unpriced(priced_plant());
    CHECK(unpriced.planner->study(WorkAction::replace_run, 1).refusal ==
          ActionRefusal::needs_shutdown);
    SmallPlant small = priced_plant({{"outage", "3 day"}, {"unit", "U1"}});
    small.description.outages = {{"U1", {2.0, 10'000.0, {}, {}, {}}}};
    Studied priced(small);
    ActionStudy study = priced.planner->study(WorkAction::replace_run, 1);
    REQUIRE(study.refusal == ActionRefusal::none);
    CHECK(study.committed.of(CostPart::lost_production) == doctest::Approx(3 * 10'000));
    CHECK(
        priced.planner->study(WorkAction::replace_run, 0).committed.of(CostPart::lost_production) ==
        0.0);
}

TEST_CASE("screening is answered in the window after, and there is none after the last") {
    Studied made(priced_plant());
    ActionStudy study = made.planner->study(WorkAction::screen, 0);
    REQUIRE(study.refusal == ActionRefusal::none);
    CHECK(study.follow_window == 1);
    CHECK(study.committed.of(CostPart::screening) == doctest::Approx(36 * 20));
    CHECK(made.planner->study(WorkAction::screen, 2).refusal == ActionRefusal::no_window_after);
}

TEST_CASE("insulation that serves a purpose stays") {
    Studied process(priced_plant({{"insulation_purpose", "process"}}));
    CHECK(process.planner->study(WorkAction::remove_insulation, 0).refusal ==
          ActionRefusal::serves_purpose);
    // 45 degC is below the touch limit and above the dew point; nobody states a purpose.
    Studied idle(
        priced_plant({{"insulation_purpose", "none"}, {"operating_temperature", "45 degC"}}));
    CHECK(idle.planner->study(WorkAction::remove_insulation, 0).refusal == ActionRefusal::none);
}

TEST_CASE("nothing is coated while the steel is within 3 K of the dew point") {
    SmallPlant small = priced_plant();
    // 95 % at 15 degC: a dew point of about 14 degC (Magnus).
    small.description.climate->relative_humidity_percent.fill(95.0);
    Studied made(small);
    CHECK(made.planner->study(WorkAction::strip_recoat, 0).refusal == ActionRefusal::no_coating);
    CHECK(made.planner->study(WorkAction::open_part, 0).refusal == ActionRefusal::none);
}

TEST_CASE("cost and loss of a strategy are the tree's") {
    Studied made(priced_plant());
    for (const WorkAction action : {WorkAction::screen, WorkAction::open_part,
                                    WorkAction::strip_recoat, WorkAction::renew_insulation}) {
        ActionStudy study = made.planner->study(action, 0);
        REQUIRE(study.refusal == ActionRefusal::none);
        const double follow =
            study.expected_follow *
            made.ahead.horizon.discount(made.windows[study.follow_window].at_years);
        CHECK(study.loss + follow == doctest::Approx(study.tree.loss_informed));
        CHECK(study.value() ==
              doctest::Approx(study.tree.loss_informed +
                              study.committed.sum() *
                                  made.ahead.horizon.discount(made.windows[0].at_years)));
        CHECK(study.follow_chance >= 0.0);
        CHECK(study.follow_chance <= 1.0 + 1e-12);
    }
}

}  // namespace
}  // namespace lagline
