#include <doctest/doctest.h>

#include <cmath>

#include "made_plan.h"
#include "support/rules.h"

namespace lagline {
namespace {

Plant plant_with(std::vector<Cells> windows) {
    SmallPlant small;
    small.segments = {segment_cells("S-1")};
    small.turnarounds = std::move(windows);
    small.at = make_date(2025, 1, 1);
    return assemble(small, published_rules());
}

TEST_CASE("windows that are over or beyond the horizon are left out, the rest come by start") {
    const Plant plant = plant_with({window_cells("late", "2029-04-01", "2029-05-01"),
                                    window_cells("over", "2024-04-01", "2024-05-01"),
                                    window_cells("now", "2024-12-20", "2025-01-20"),
                                    window_cells("far", "2060-04-01", "2060-05-01"),
                                    window_cells("next", "2026-04-01", "2026-05-01")});
    const auto windows = plan_windows(plant, 20);
    REQUIRE(windows.size() == 3);
    CHECK(windows[0].name == "now");
    CHECK(windows[0].at_years == 0.0);
    CHECK(windows[1].name == "next");
    CHECK(windows[2].name == "late");
    CHECK(std::isinf(windows[1].budget));
    CHECK(std::isinf(windows[1].hours[0]));
    // April and May.
    CHECK(windows[1].months == 0b0000'0001'1000);
}

TEST_CASE("a budget that is asked for stands before that of the file") {
    const Plant plant =
        plant_with({window_cells("A", "2026-04-01", "2026-05-01", {{"budget", "5000 USD"}}),
                    window_cells("B", "2027-04-01", "2027-05-01", {{"budget", "7000 USD"}})});
    const std::vector<BudgetChange> changes{{"B", 1.0}, {"C", 2.0}};
    const auto windows = plan_windows(plant, 20, changes);
    CHECK(windows[0].budget == 5000.0);
    CHECK(windows[1].budget == 1.0);
    CHECK(unknown_windows(windows, changes) == std::vector<std::string>{"C"});
}

TEST_CASE("after the last window the next comes after the mean time between them") {
    const Plant plant = plant_with({window_cells("A", "2026-01-01", "2026-02-01"),
                                    window_cells("B", "2027-01-01", "2027-02-01"),
                                    window_cells("C", "2030-01-01", "2030-02-01")});
    // 1461 days between the first and the last, two gaps.
    CHECK(next_chance_after(plan_windows(plant, 20)) == Date{make_date(2030, 1, 1).days + 730});
    CHECK(!next_chance_after({}));
}

}  // namespace
}  // namespace lagline
