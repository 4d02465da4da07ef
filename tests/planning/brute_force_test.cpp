// The plan against trying every combination of strategies, added up without problem or solver.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <map>
#include <random>

#include "made_plan.h"
#include "support/rules.h"

namespace lagline {
namespace {

using S = SegmentField;

bool allowed(const Plan& plan, const Plant& plant, std::span<const std::uint32_t> choice) {
    std::map<std::string_view, std::size_t> pack_window;
    for (std::size_t row = 0; row < choice.size(); ++row) {
        const Strategy& strategy = plan.strategies.all[choice[row]];
        const Deadline& deadline = plan.deadlines[row];
        if (deadline.window && deadline.can_be_met &&
            (!strategy.opens() || strategy.window > *deadline.window)) {
            return false;
        }
        const std::uint32_t segment = plan.segments[row].segment_row;
        if (!plant.segments.has(S::test_pack, segment)) continue;
        const std::size_t window = strategy.acts ? strategy.window + std::size_t{1} : 0;
        const auto [known, first] =
            pack_window.emplace(plant.segments.texts(S::test_pack)[segment], window);
        if (!first && known->second != window) return false;
    }
    return true;
}

/// The least value of all combinations that keep limits, deadlines and packs.
double best_of_all(const Plan& plan, const Plant& plant) {
    std::vector<std::uint32_t> choice(plan.strategies.first.begin(),
                                      plan.strategies.first.end() - 1);
    double best = std::numeric_limits<double>::infinity();
    for (bool more = true; more;) {
        if (allowed(plan, plant, choice)) {
            const PlanTotals totals = totals_of(plan.strategies, plan.groups, plan.windows,
                                                plan.deadlines, plan.futures.horizon, choice);
            if (overruns(totals, plan.windows).empty()) best = std::min(best, totals.value());
        }
        more = false;
        for (std::size_t row = 0; row < choice.size() && !more; ++row) {
            more = ++choice[row] < plan.strategies.first[row + 1];
            if (!more) choice[row] = plan.strategies.first[row];
        }
    }
    return best;
}

/// Three or four segments on two windows with budgets and hours that bind, drawn by number.
Plant drawn_plant(unsigned number, const RuleSet& rules) {
    std::mt19937 dice(number);
    const auto draw = [&](int from, int to) {
        return std::uniform_int_distribution<int>(from, to)(dice);
    };
    SmallPlant small;
    small.at = make_date(2025, 1, 1);
    small.description.name = "Drawn";
    small.description.climate = mild_climate();
    // A criterion that some of them reach, so that some work is compulsory.
    small.description.criteria.risk_per_year = draw(0, 1) == 1 ? 3e4 : 1e12;
    const int count = 3;
    for (int i = 0; i < count; ++i) {
        Cells cells{{"coating_date", std::to_string(draw(1988, 2012)) + "-01-01"},
                    {"in_service", "1985-01-01"},
                    {"length", std::to_string(draw(4, 40)) + " m"},
                    {"elevation", std::to_string(draw(1, 12)) + " m"},
                    {"consequence_category", std::string(1, static_cast<char>('A' + draw(1, 4)))},
                    {"test_pack", draw(0, 2) == 0 ? "TP-1" : ""}};
        if (draw(0, 2) > 0) cells["scaffold_group"] = "SG-1";
        small.segments.push_back(segment_cells("S-" + std::to_string(i), cells));
    }
    const auto limits = [&] {
        return Cells{{"budget", std::to_string(draw(4, 40)) + "000 USD"},
                     {"insulation_hours", std::to_string(draw(20, 200)) + " man-h"},
                     {"scaffold_hours", std::to_string(draw(10, 80)) + " man-h"}};
    };
    small.turnarounds = {window_cells("W1", "2026-06-01", "2026-07-01", limits()),
                         window_cells("W2", "2029-06-01", "2029-07-01", limits())};
    return assemble(small, rules);
}

TEST_CASE("plans of drawn plants are the best of all combinations") {
    const RuleSet& rules = published_rules();
    std::size_t fitted = 0;
    std::size_t compulsory = 0;
    std::size_t worked_on = 0;
    for (unsigned number = 1; number <= 24; ++number) {
        CAPTURE(number);
        const Plant plant = drawn_plant(number, rules);
        const Plan plan = planned(plant, rules, without_curve()).plan;
        const double best = best_of_all(plan, plant);
        for (const Deadline& deadline : plan.deadlines) compulsory += deadline.window ? 1U : 0U;
        if (std::isinf(best)) {
            CHECK(plan.solution.status == SolveStatus::overrun);
            CHECK(!overruns(plan.totals, plan.windows).empty());
            continue;
        }
        ++fitted;
        worked_on += plan.totals.treated;
        REQUIRE(plan.solution.status == SolveStatus::proven);
        CHECK(plan.totals.value() == doctest::Approx(best).epsilon(1e-8));
        CHECK(allowed(plan, plant, plan.choice()));
    }
    // The draw is no use if it never binds.
    CHECK(fitted >= 12);
    CHECK(compulsory >= 6);
    CHECK(worked_on >= 12);
}

}  // namespace
}  // namespace lagline
