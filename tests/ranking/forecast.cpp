#include "ranking/forecast.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "ranking/method.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

const std::array<std::uint32_t, 1> first_segment{0};

RiskCriteria criteria(std::optional<double> probability, bool wall = false,
                      std::optional<double> risk = std::nullopt) {
    RiskCriteria stated;
    stated.probability_per_year = probability;
    stated.wall = wall;
    stated.risk_per_year = risk;
    return stated;
}

// One segment as of a day, with a reading that resets its wall.
Plant plant_at(Date at, const RiskCriteria& stated, const Cells& changes = {}) {
    PlantDescription description;
    description.criteria = stated;
    return assemble(
        {.segments = {segment_cells("S-1", changes)},
         .inspections = {inspection_cells("S-1", "2017-03-01", {{"least_thickness", "6.2 mm"}})},
         .description = description,
         .at = at},
        published_rules());
}

TEST_CASE("each point of the curve is the ranking of that day, bit for bit") {
    const Date today = make_date(2025, 6, 15);
    const Plant plant = plant_at(today, criteria(1e-2));
    const Forecast ahead = forecast(plant, published_rules(), first_segment, 20);
    REQUIRE(ahead.curves.size() == 1);
    REQUIRE(ahead.dates.size() == 21);
    for (int year = 0; year <= 20; ++year) {
        CAPTURE(year);
        const Date day = add_years(today, year);
        REQUIRE(ahead.dates[static_cast<std::size_t>(year)] == day);
        const Plant then = plant_at(day, criteria(1e-2));
        const Ranking ranking = rank(then, published_rules());
        const ForecastPoint& point = ahead.curves[0].points[static_cast<std::size_t>(year)];
        CHECK(point.damage_factor == number_of(then, ranking, "S-1", "damage_factor"));
        CHECK(point.probability_per_year ==
              number_of(then, ranking, "S-1", "probability_of_failure"));
        CHECK(point.risk_per_year == number_of(then, ranking, "S-1", "risk"));
        CHECK(point.expected_wall_mm == number_of(then, ranking, "S-1", "expected_wall"));
        CHECK(point.below_minimum == number_of(then, ranking, "S-1", "below_minimum_probability"));
    }
}

TEST_CASE("a segment is due on the first day on which the straight line reaches the criterion") {
    const Date today = make_date(2025, 6, 15);
    const Forecast unknown =
        forecast(plant_at(today, criteria(1e-2)), published_rules(), first_segment, 20);
    const auto& points = unknown.curves[0].points;
    // Half way between two points of the curve, on the steep part.
    std::size_t year = 1;
    while (points[year].probability_per_year < 2.0 * points[0].probability_per_year) ++year;
    const double half =
        0.5 * (points[year - 1].probability_per_year + points[year].probability_per_year);
    const Forecast known =
        forecast(plant_at(today, criteria(half)), published_rules(), first_segment, 20);
    const auto due = known.curves[0].due.date();
    REQUIRE(due);
    const int span = known.dates[year].days - known.dates[year - 1].days;
    CHECK(due->days == known.dates[year - 1].days + (span + 1) / 2);
    CHECK(known.curves[0].due.first() == Criterion::probability);
}

TEST_CASE("what is beyond a criterion today is due today, what stays below it is not due") {
    const Date today = make_date(2025, 6, 15);
    const Forecast low =
        forecast(plant_at(today, criteria(1e-9)), published_rules(), first_segment, 20);
    CHECK(low.curves[0].due.date() == today);
    const Forecast high =
        forecast(plant_at(today, criteria(1.0)), published_rules(), first_segment, 20);
    CHECK_FALSE(high.curves[0].due.date());
}

TEST_CASE("the earliest of several criteria makes a segment due, and each day is told") {
    const Date today = make_date(2018, 1, 1);
    const Forecast ahead =
        forecast(plant_at(today, criteria(1e-4, true, 1e9)), published_rules(), first_segment, 30);
    const DueDates& due = ahead.curves[0].due;
    const auto wall = due.reached[static_cast<std::size_t>(Criterion::wall)];
    const auto probability = due.reached[static_cast<std::size_t>(Criterion::probability)];
    REQUIRE(wall);
    REQUIRE(probability);
    CHECK_FALSE(due.reached[static_cast<std::size_t>(Criterion::risk)]);
    CHECK(*probability < *wall);
    CHECK(due.first() == Criterion::probability);
    CHECK(due.date() == probability);
}

TEST_CASE("without criteria in plant.yaml those of the rules hold, and it is told") {
    const Plant plant = plant_at(make_date(2025, 6, 15), {});
    const Criteria taken = criteria_of(plant, published_rules());
    CHECK_FALSE(taken.of_the_plant);
    CHECK(taken.wall);
    CHECK(taken.probability_per_year == 3.06e-3);
    CHECK_FALSE(taken.risk_per_year);
    CHECK(describe(taken, "EUR").find("defaults of the rules") != std::string::npos);
    const Criteria stated =
        criteria_of(plant_at(make_date(2025, 6, 15), criteria(1e-2)), published_rules());
    CHECK(stated.of_the_plant);
    CHECK_FALSE(stated.wall);
}

TEST_CASE("today's rank stands beside that of the rank date") {
    // Today B is worse, having lost more; later A, which corrodes faster, is.
    const Cells slow{{"operating_temperature", "32 degC"},
                     {"in_service", "1985-01-01"},
                     {"coating_date", "1985-01-01"}};
    const Cells fast{{"operating_temperature", "71 degC"},
                     {"in_service", "2016-01-01"},
                     {"coating_date", "2016-01-01"},
                     {"coating_quality", "none"}};
    SmallPlant small{.segments = {segment_cells("A", fast), segment_cells("B", slow)},
                     .at = make_date(2018, 1, 1)};
    Plant plant = assemble(small, published_rules());
    plant.ranked_at.date = make_date(2060, 1, 1);
    const Ranking ranking = rank_with_outlook(plant, published_rules(), 0);
    const Outlook& outlook = *ranking.outlook;
    CHECK(ranking.order == rank(plant, published_rules()).order);
    small.at = make_date(2018, 1, 1);
    const Plant then = assemble(small, published_rules());
    const Ranking today = rank(then, published_rules());
    REQUIRE(today.order != ranking.order);
    for (std::size_t rank = 0; rank < today.order.size(); ++rank) {
        CHECK(outlook.rank_today[today.order[rank]] == rank + 1);
        CHECK(outlook.risk_today_per_year[today.order[rank]] ==
              today.risk.risk_per_year[today.order[rank]]);
    }
    CHECK(outlook.due.size() == 2);
}

TEST_CASE("the first ranks are those of the whole ranking, today's and due dates too") {
    // Both rule sets: with the extended one a segment may have two mechanisms.
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        const Plant plant = sample_plant(*rules);
        const Ranking all = rank_with_outlook(plant, *rules, 0);
        for (const std::size_t top : {1U, 2U, 40U, 100'000U}) {
            CAPTURE(top);
            const Ranking first = rank_first(plant, *rules, top);
            REQUIRE(first.order.size() == all.order.size());
            const std::size_t count = std::min<std::size_t>(top, all.order.size());
            REQUIRE(first.outlook->due.size() == count);
            for (std::size_t rank = 0; rank < count; ++rank) {
                const std::uint32_t row = all.order[rank];
                REQUIRE(first.order[rank] == row);
                CHECK(first.outlook->rank_today[row] == all.outlook->rank_today[row]);
                CHECK(first.outlook->due[rank].reached == all.outlook->due[rank].reached);
            }
        }
    }
}

TEST_CASE("the outlook is the same for any threads and block size") {
    const Plant plant = sample_plant(published_rules());
    const auto outlook = [&](const WorkPlan& work) {
        return rank_with_outlook(plant, published_rules(), 40, work).outlook.value();
    };
    const Outlook one = outlook({.block_rows = 1, .threads = 1});
    const Outlook two = outlook({.block_rows = 64, .threads = 2});
    CHECK(one.rank_today == two.rank_today);
    CHECK((one.risk_today_per_year == two.risk_today_per_year).all());
    REQUIRE(one.due.size() == 40);
    for (std::size_t rank = 0; rank < one.due.size(); ++rank) {
        CHECK(one.due[rank].reached == two.due[rank].reached);
    }
}

}  // namespace
}  // namespace lagline
