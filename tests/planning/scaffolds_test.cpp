// Scaffolds of follow-ups in a window of their own.
#include <doctest/doctest.h>

#include <vector>

#include "made_plan.h"
#include "planning/plan_totals.h"

namespace lagline {
namespace {

Strategy looks(double follow_chance, std::uint16_t follow_window) {
    Strategy strategy;
    strategy.acts = true;
    strategy.action = WorkAction::open_part;
    strategy.window = 0;
    strategy.follow_window = follow_window;
    strategy.follow_chance = follow_chance;
    strategy.money = 100.0;
    strategy.follow_money = 50.0;
    return strategy;
}

/// Segments of one group with a scaffold of 1000 money and 20 h, each with one strategy.
PlanTotals totals_of_group(const std::vector<Strategy>& strategies) {
    Strategies all;
    AccessGroups groups;
    groups.names = {"SG-1"};
    groups.elevation_m = {6.0};
    groups.money = {1000.0};
    groups.hours = {20.0};
    std::vector<std::uint32_t> choice;
    for (const Strategy& strategy : strategies) {
        choice.push_back(static_cast<std::uint32_t>(all.all.size()));
        all.all.push_back(strategy);
        all.first.push_back(static_cast<std::uint32_t>(all.all.size()));
        groups.of_row.push_back(0);
    }
    const std::vector<PlanWindow> windows(2);
    const std::vector<Deadline> deadlines(strategies.size());
    return totals_of(all, groups, windows, deadlines, Horizon{}, choice);
}

TEST_CASE("a follow-up that is certain pays the whole scaffold of its window") {
    const PlanTotals totals = totals_of_group({looks(1.0, 1)});
    REQUIRE(totals.scaffolds.size() == 2);
    CHECK(totals.windows[0].money == 1100.0);
    CHECK(totals.windows[1].money == 1050.0);
    CHECK(totals.windows[1].hours[static_cast<std::size_t>(Craft::scaffold)] == 20.0);
}

TEST_CASE("follow-ups that are not certain count their chances, together no more than one") {
    const PlanTotals one = totals_of_group({looks(0.25, 1)});
    CHECK(one.windows[1].money == 50.0 + 250.0);
    CHECK(one.windows[1].hours[static_cast<std::size_t>(Craft::scaffold)] == 5.0);
    const PlanTotals many = totals_of_group({looks(0.5, 1), looks(0.75, 1), looks(0.5, 1)});
    CHECK(many.windows[1].money == 150.0 + 1000.0);
    REQUIRE(many.scaffold(1, 0) != nullptr);
    CHECK(many.scaffold(1, 0)->share == 1.0);
    // One that works there for certain makes the scaffold stand for all.
    CHECK(totals_of_group({looks(1.0, 1), looks(0.5, 1)}).windows[1].money == 100.0 + 1000.0);
}

TEST_CASE("a look and what follows it in one window share one scaffold") {
    const PlanTotals totals = totals_of_group({looks(1.0, 0)});
    CHECK(totals.windows[0].money == 100.0 + 50.0 + 1000.0);
    CHECK(totals.windows[1].money == 0.0);
    CHECK(totals.scaffold(1, 0) == nullptr);
}

TEST_CASE("follow-ups of the sample plant pay their scaffolds") {
    const Plan& plan = sample_plan().made.plan;
    std::size_t later = 0;
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        const Strategy& strategy = plan.strategies.all[plan.segments[row].strategy];
        const std::uint32_t group = plan.groups.of_row[row];
        if (!strategy.follows_later() || strategy.follow_chance <= 0.0) continue;
        if (!plan.groups.needs_scaffold(group)) continue;
        ++later;
        const ScaffoldUse* use = plan.totals.scaffold(strategy.follow_window, group);
        REQUIRE(use != nullptr);
        CHECK(use->share >= std::min(1.0, strategy.follow_chance) - 1e-9);
    }
    CHECK(later > 0);
}

}  // namespace
}  // namespace lagline
