#include "planning/futures.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "planning/future_loss.h"
#include "ranking/forecast.h"
#include "site_rules.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// Greatest difference between the curve of a segment that is left alone and its forecast, as a
// share of the forecast.
double greatest_difference(const Plant& plant, const RuleSet& rules) {
    const Futures ahead = futures(plant, rules, rank(plant, rules), {.threads = 2});
    const Forecast expected =
        forecast(plant, rules, ahead.segment_rows, ahead.horizon.years, {.threads = 2});
    REQUIRE(ahead.rows() == expected.curves.size());
    REQUIRE(ahead.dates == expected.dates);
    FutureLoss loss{plant, rules, ahead};
    double greatest = 0.0;
    for (std::size_t row = 0; row < ahead.rows(); ++row) {
        REQUIRE(ahead.segment_rows[row] == expected.curves[row].segment_row);
        const auto curve = loss.probabilities(row, {});
        for (std::size_t date = 0; date < curve.size(); ++date) {
            const double forecasted = expected.curves[row].points[date].probability_per_year;
            const double apart = std::abs(curve[date] - forecasted);
            greatest = std::max(greatest, forecasted > 0.0 ? apart / forecasted : apart);
        }
    }
    return greatest;
}

// Austenitic steel that also loses wall: both mechanisms on one segment.
RuleSet two_mechanisms(const std::string& combination) {
    return rules_with(
        "  - {table: wall_loss_of_family, entry: austenitic, to: yes, reason: pits, basis: site}\n"
        "  - {table: mechanism_combination, to: " +
        combination + ", reason: for this test, basis: site}\n");
}

TEST_CASE("left alone, the states with their probabilities give the forecast: published") {
    CHECK(greatest_difference(sample_plant(published_rules()), published_rules()) < 1e-13);
}

TEST_CASE("left alone, the states with their probabilities give the forecast: extended") {
    CHECK(greatest_difference(sample_plant(extended_rules()), extended_rules()) < 1e-13);
}

TEST_CASE("left alone, two mechanisms on a segment give the forecast, however they combine") {
    for (const std::string combination : {"sum", "largest"}) {
        CAPTURE(combination);
        const RuleSet rules = two_mechanisms(combination);
        const Plant plant =
            assemble({.segments = {segment_cells("C"),
                                   segment_cells("A", {{"material", "austenitic_stainless"}}),
                                   segment_cells("B", {{"material", "austenitic_stainless"},
                                                       {"operating_temperature", "30 degC"}})}},
                     rules);
        const Futures ahead = futures(plant, rules, rank(plant, rules));
        REQUIRE(ahead.excess_damage_factor.size() > 0);
        CHECK(greatest_difference(plant, rules) < 1e-13);
    }
}

TEST_CASE("a probability of more than 1 is cut in each state, so the mean of the states is less") {
    // Score 0 makes the management factor 10 (eq. 19), and P_f up to 1.96 before the cap.
    PlantDescription description;
    description.management_score_percent = 0.0;
    const Plant plant = assemble({.segments = {segment_cells("S", {{"in_service", "2019-01-01"},
                                                                   {"coating_quality", "none"},
                                                                   {"coating_date", ""}})},
                                  .description = description},
                                 published_rules());
    const Futures ahead = futures(plant, published_rules(), rank(plant, published_rules()));
    const std::vector<std::uint32_t> all{0};
    const Forecast expected = forecast(plant, published_rules(), all, ahead.horizon.years);
    FutureLoss loss{plant, published_rules(), ahead};
    const auto curve = loss.probabilities(0, {});
    bool cut = false;
    for (std::size_t date = 0; date < curve.size(); ++date) {
        const double forecasted = expected.curves[0].points[date].probability_per_year;
        CHECK(curve[date] <= forecasted * (1.0 + 1e-13));
        cut = cut || curve[date] < 0.99 * forecasted;
    }
    CHECK(cut);
    CHECK(curve.back() == doctest::Approx(1.0).epsilon(1e-3));
}

TEST_CASE("what will be found after today is not known today") {
    const Cells later =
        inspection_cells("S", "2030-01-01", {{"least_thickness", "3 mm"}, {"rust_grade", "2"}});
    const SmallPlant without{.segments = {segment_cells("S")}};
    SmallPlant with = without;
    with.inspections = {later};
    const Plant known = assemble(without, published_rules());
    const Plant told = assemble(with, published_rules());
    REQUIRE(told.inspections.rows() == 1);
    const Futures a = futures(known, published_rules(), rank(known, published_rules()));
    const Futures b = futures(told, published_rules(), rank(told, published_rules()));
    CHECK((a.exposed_years == b.exposed_years).all());
    CHECK((a.wall_mm == b.wall_mm).all());
    CHECK((a.state_probability[0] == b.state_probability[0]).all());
}

TEST_CASE("the same futures on any number of threads and in any blocks") {
    const Plant plant = sample_plant(extended_rules());
    const Ranking ranking = rank(plant, extended_rules());
    const Futures one =
        futures(plant, extended_rules(), ranking, {.block_rows = 100'000, .threads = 1});
    const Futures many = futures(plant, extended_rules(), ranking, {.block_rows = 7, .threads = 3});
    CHECK(one.segment_rows == many.segment_rows);
    CHECK(one.ranking_rows == many.ranking_rows);
    CHECK((one.exposed_years == many.exposed_years).all());
    CHECK((one.rate_mm_per_year == many.rate_mm_per_year).all());
    CHECK((one.leak_cost == many.leak_cost).all());
}

TEST_CASE("horizon and discount rate are those of the rules") {
    const RuleSet rules = rules_with(
        "  - {table: planning_horizon, to: 7.5, reason: for this test, basis: site}\n"
        "  - {table: discount_rate, to: 0.25, reason: for this test, basis: site}\n");
    const Horizon horizon = horizon_of(rules);
    CHECK(horizon.years == 7);
    CHECK(horizon.discount(0.0) == 1.0);
    CHECK(horizon.discount(2.0) == doctest::Approx(0.64).epsilon(1e-14));  // 1 / 1.25^2
    const Plant plant = assemble({.segments = {segment_cells("S")}}, rules);
    const Futures ahead = futures(plant, rules, rank(plant, rules));
    CHECK(ahead.dates.size() == 8);
    CHECK(ahead.years_to(make_date(2026, 7, 2)) == doctest::Approx(1.0 + 182.0 / 365.0));
    CHECK(ahead.years_to(make_date(2020, 1, 1)) == 0.0);
    CHECK(ahead.years_to(make_date(2050, 1, 1)) == 7.0);
}

TEST_CASE("rows of the futures are found by segment, those that are not ranked are not there") {
    const Plant plant = assemble(
        {.segments = {segment_cells("D", {{"material", "duplex_stainless"}}), segment_cells("S"),
                      segment_cells("A", {{"material", "austenitic_stainless"}})}},
        published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const Futures ahead = futures(plant, published_rules(), ranking);
    REQUIRE(ahead.rows() == 2);
    CHECK_FALSE(ahead.find(0));
    CHECK(ahead.find(1) == 0);
    CHECK(ahead.find(2) == 1);
    CHECK(ranking.segment_rows[ahead.ranking_rows[1]] == 2);
    CHECK(ahead.cracks[0] == 0);
    CHECK(ahead.cracks[1] == 1);
}

}  // namespace
}  // namespace lagline
