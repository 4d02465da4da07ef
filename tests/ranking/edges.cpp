#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

void require_sound(const Ranking& ranking) {
    for (const ColumnView& column : ranking.views()) {
        CAPTURE(column.info->key);
        for (const double each : column.numbers) REQUIRE(std::isfinite(each));
    }
    for (const std::string_view key : {"state_probability_1", "state_probability_2",
                                       "state_probability_3", "probability_of_failure"}) {
        for (const double each : column_of(ranking, key).numbers) {
            REQUIRE(each >= 0.0);
            REQUIRE(each <= 1.0);
        }
    }
    for (std::size_t row = 0; row < ranking.rows(); ++row) {
        const double sum = column_of(ranking, "state_probability_1").numbers[row] +
                           column_of(ranking, "state_probability_2").numbers[row] +
                           column_of(ranking, "state_probability_3").numbers[row];
        REQUIRE(sum == doctest::Approx(1.0).epsilon(1e-14));
    }
}

TEST_CASE("a wall read as 0 mm stays finite and all but sure to fail") {
    const Plant plant = assemble(
        {.segments = {segment_cells("S-1")},
         .inspections = {inspection_cells("S-1", "2020-01-01", {{"least_thickness", "0 mm"}})}},
        published_rules());
    const Ranking ranking = rank(plant, published_rules());
    require_sound(ranking);
    CHECK(number_of(plant, ranking, "S-1", "wall_thickness") > 0.0);
    CHECK(number_of(plant, ranking, "S-1", "wall_thickness") <= 0.01);
    CHECK(number_of(plant, ranking, "S-1", "damage_factor") > 6400.0);
}

TEST_CASE("no exposed time: rank on the day in service, and coating alive throughout") {
    for (const auto& [service, quality] :
         {std::pair{"2025-01-01", "none"}, std::pair{"2022-01-01", "medium"}}) {
        CAPTURE(std::string{service});
        const Plant plant =
            assemble({.segments = {segment_cells("S-1", {{"in_service", service},
                                                         {"coating_date", service},
                                                         {"coating_quality", quality}})}},
                     published_rules());
        const Ranking ranking = rank(plant, published_rules());
        require_sound(ranking);
        CHECK(number_of(plant, ranking, "S-1", "exposed_time") == 0.0);
        CHECK(number_of(plant, ranking, "S-1", "wall_fraction") == 0.0);
        CHECK(number_of(plant, ranking, "S-1", "damage_factor") < 1.0);
    }
}

TEST_CASE("a date before everything: times are 0, not negative") {
    const Plant plant = assemble({.segments = {segment_cells("S-1")}, .at = make_date(1990, 1, 1)},
                                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    require_sound(ranking);
    for (const std::string_view key :
         {"time_since_wall", "coating_age", "coating_credit", "exposed_time"}) {
        CHECK(number_of(plant, ranking, "S-1", key) == 0.0);
    }
}

TEST_CASE("outside the table of base rates: rate 0, row flagged, still ranked") {
    const Plant plant =
        assemble({.segments = {segment_cells("hot", {{"operating_temperature", "300 degC"}}),
                               segment_cells("cold", {{"operating_temperature", "-60 degC"}}),
                               segment_cells("warm")}},
                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    require_sound(ranking);
    for (const std::string_view name : {"hot", "cold"}) {
        CHECK(number_of(plant, ranking, name, "corrosion_rate") == 0.0);
        CHECK(word_of(plant, published_rules(), ranking, name, "outside_range") == "yes");
    }
    CHECK(word_of(plant, published_rules(), ranking, "warm", "outside_range") == "no");
    CHECK(ranking.rows() == 3);
}

TEST_CASE("hundreds of inspections of one segment, all kinds") {
    SmallPlant small{.segments = {segment_cells("S-1"), segment_cells("S-2")}};
    for (int i = 0; i < 800; ++i) {
        const std::string coverage = std::to_string(10 + 30 * (i % 4)) + " %";
        small.inspections.push_back(
            inspection_cells("S-1", i % 2 == 0 ? "2015-01-01" : "2020-06-01",
                             {{"coverage", coverage}, {"least_thickness", "6 mm"}}));
    }
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    require_sound(ranking);
    CHECK(number_of(plant, ranking, "S-1", "inspections_a") == 200.0);
    CHECK(number_of(plant, ranking, "S-1", "inspections_b") == 200.0);
    CHECK(number_of(plant, ranking, "S-1", "inspections_c") == 200.0);
    CHECK(number_of(plant, ranking, "S-1", "inspections_d") == 200.0);
    CHECK(number_of(plant, ranking, "S-1", "state_probability_1") == 1.0);
}

TEST_CASE("a site that asks for next to no wall, and a pipe without pressure") {
    const Plant plant =
        assemble({.segments = {segment_cells(
                      "S-1", {{"design_pressure", "0 MPa"}, {"minimum_thickness", "0.1 mm"}})}},
                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    require_sound(ranking);
    CHECK(number_of(plant, ranking, "S-1", "minimum_thickness") == 0.1);
    CHECK(number_of(plant, ranking, "S-1", "strength_ratio_b") == 0.0);
}

// Plants drawn over everything the columns may hold: whatever comes in, what goes out is sound.
TEST_CASE("drawn plants: every column finite, probabilities in [0, 1], states sum to 1") {
    std::mt19937_64 dice{20270405};
    const auto one_of = [&](const std::vector<std::string>& words) {
        return words[std::uniform_int_distribution<std::size_t>{0, words.size() - 1}(dice)];
    };
    const auto between = [&](double least, double most, const char* unit) {
        return std::to_string(std::uniform_real_distribution<double>{least, most}(dice)) + " " +
               unit;
    };
    const auto day = [&] {
        return to_string(Date{std::uniform_int_distribution<std::int32_t>{3650, 20000}(dice)});
    };
    const auto words = [&](const char* vocabulary) {
        std::vector<std::string> keys;
        for (const Word& word : published_rules().vocabulary(vocabulary).words) {
            keys.push_back(word.key);
        }
        return one_of(keys);
    };
    SmallPlant small{.segments = {}};
    for (int i = 0; i < 400; ++i) {
        const std::string name = "S-" + std::to_string(i);
        small.segments.push_back(
            segment_cells(name, {{"in_service", "1980-01-01"},
                                 {"coating_date", day()},
                                 {"coating_quality", words("coating_quality")},
                                 {"nominal_wall", between(0.5, 25.0, "mm")},
                                 {"operating_temperature", between(-50.0, 250.0, "degC")},
                                 {"insulation_type", words("insulation_type")},
                                 {"insulation_condition", words("insulation_condition")},
                                 {"complexity", words("complexity")},
                                 {"pooling", one_of({"yes", "no"})},
                                 {"ground_or_water_interface", one_of({"yes", "no", ""})},
                                 {"driver", words("driver")},
                                 {"design_pressure", between(0.0, 20.0, "MPa")},
                                 {"joint_efficiency", one_of({"1", "0.85", "0.6"})},
                                 {"data_confidence", words("data_confidence")},
                                 {"consequence_category", one_of({"A", "B", "C", "D", "E", ""})},
                                 {"leak_cost", one_of({"", "0 USD", "12345.67 USD", "5e7 USD"})}}));
        for (int k = i % 7; k > 0; --k) {
            small.inspections.push_back(
                inspection_cells(name, day(),
                                 {{"technique", words("technique")},
                                  {"coverage", between(0.0, 100.0, "%")},
                                  {"least_thickness", one_of({"", "0 mm", "0.1 mm", "4 mm"})},
                                  {"rust_grade", one_of({"", "0", "4", "9"})}}));
        }
    }
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    REQUIRE(ranking.rows() == 400);
    require_sound(ranking);
}

}  // namespace
}  // namespace lagline
