#include "learning/as_known.h"

#include <doctest/doctest.h>

#include "intake/source_file.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

KnownPlant known_at(const std::vector<Cells>& segments, const std::vector<Cells>& inspections,
                    const std::vector<Cells>& overrides, Date at) {
    Report report;
    PlantSources sources;
    sources.segments = source_from_text(csv_of(segments), "segments.csv", report);
    if (!inspections.empty()) {
        sources.inspections = source_from_text(csv_of(inspections), "inspections.csv", report);
    }
    if (!overrides.empty()) {
        sources.overrides = source_from_text(csv_of(overrides), "overrides.csv", report);
    }
    auto known = plant_as_known(sources, published_rules(), at, report);
    REQUIRE_MESSAGE(known.has_value(), to_text(report));
    return std::move(*known);
}

std::string word(const KnownPlant& known, S field, std::size_t row) {
    return published_rules()
        .vocabulary(info(field).words)
        .words[known.plant.segments.codes(field)[row]]
        .key;
}

constexpr Date at_2015 = make_date(2015, 1, 1);

TEST_CASE("segments that came later are left out, with their inspections") {
    const KnownPlant known =
        known_at({segment_cells("S-1", {{"in_service", "2016-01-01"}, {"coating_date", ""}}),
                  segment_cells("S-2"), segment_cells("S-3", {{"in_service", "2015-01-01"}})},
                 {inspection_cells("S-1", "2017-01-01"), inspection_cells("S-2", "2014-01-01"),
                  inspection_cells("S-2", "2015-01-02"), inspection_cells("S-3", "2015-01-01")},
                 {}, at_2015);
    REQUIRE(known.plant.segments.rows() == 2);
    CHECK(known.not_in_service == 1);
    CHECK(known.row_today == std::vector<std::uint32_t>{1, 2});
    CHECK(known.plant.segments.texts(S::segment)[0] == "S-2");
    CHECK(known.plant.inspections.rows() == 2);
    CHECK(known.plant.inspection_begin == std::vector<std::uint32_t>{0, 1, 2});
    CHECK(Date{known.plant.inspections.days(I::date)[0]} == make_date(2014, 1, 1));
    CHECK(known.plant.ranked_at.date == at_2015);
}

TEST_CASE("a later coating was not there: its cells take what an empty cell takes") {
    const KnownPlant known = known_at(
        {segment_cells("S-1", {{"coating_date", "2015-01-02"}, {"coating_quality", "high"}}),
         segment_cells("S-2", {{"coating_date", "2015-01-01"}, {"coating_quality", "high"}})},
        {}, {}, at_2015);
    CHECK(known.coatings_later == 1);
    CHECK(word(known, S::coating_quality, 0) == "none");  // default of the rules
    CHECK(known.plant.segments.state(S::coating_quality, 0) == CellState::rule_default);
    CHECK(Date{known.plant.segments.days(S::coating_date)[0]} == make_date(2005, 1, 1));
    CHECK(known.plant.segments.state(S::coating_date, 0) == CellState::derived);
    CHECK(word(known, S::coating_quality, 1) == "high");
}

TEST_CASE("later insulation was not there; without a day it is as old as the coating") {
    const Cells later{{"insulation_installed", "2018-06-01"},
                      {"insulation_condition", "above_average"},
                      {"insulation_type", "cellular_glass"}};
    Cells no_day = later;
    no_day["insulation_installed"] = "";
    no_day["coating_date"] = "2018-06-01";
    Cells early = later;
    early["insulation_installed"] = "2014-06-01";
    early["coating_date"] = "2018-06-01";
    const KnownPlant known = known_at(
        {segment_cells("S-1", later), segment_cells("S-2", no_day), segment_cells("S-3", early)},
        {}, {}, at_2015);
    for (const std::size_t row : {0U, 1U}) {
        CAPTURE(row);
        CHECK(word(known, S::insulation_type, row) == "unknown");
        CHECK(word(known, S::insulation_condition, row) == "average");
        CHECK(known.plant.segments.state(S::insulation_type, row) == CellState::rule_default);
    }
    CHECK(word(known, S::insulation_type, 2) == "cellular_glass");
    CHECK(word(known, S::insulation_condition, 2) == "above_average");
    CHECK(known.insulation_later == 2);
    // S-1's coating has a day of its own, long before.
    CHECK(word(known, S::coating_quality, 0) == "medium");
    CHECK(known.coatings_later == 2);
}

Cells override_cells(const char* value, const char* when, const char* until) {
    return {{"segment", "S-1"},     {"quantity", "driver"}, {"value", value}, {"reason", "seen"},
            {"who", "A. Engineer"}, {"when", when},         {"until", until}};
}

TEST_CASE("overrides in force on the day apply, and no others") {
    const std::vector<Cells> overrides{override_cells("dry", "2010-01-01", "2013-01-01"),
                                       override_cells("severe", "2014-01-01", "2016-01-01"),
                                       override_cells("mild", "2017-01-01", "")};
    const auto driver = [&](Date at) {
        return word(known_at({segment_cells("S-1")}, {}, overrides, at), S::driver, 0);
    };
    CHECK(driver(make_date(2012, 1, 1)) == "dry");
    CHECK(driver(make_date(2013, 6, 1)) == "moderate");
    CHECK(driver(at_2015) == "severe");
    CHECK(driver(make_date(2018, 1, 1)) == "mild");
}

TEST_CASE("what an override in force says of a later coating was known") {
    const std::vector<Cells> overrides{{{"segment", "S-1"},
                                        {"quantity", "coating_quality"},
                                        {"value", "high"},
                                        {"reason", "old report"},
                                        {"who", "A. Engineer"},
                                        {"when", "2014-01-01"},
                                        {"until", ""}}};
    const KnownPlant known =
        known_at({segment_cells("S-1", {{"coating_date", "2018-01-01"}})}, {}, overrides, at_2015);
    CHECK(word(known, S::coating_quality, 0) == "high");
}

TEST_CASE("a day of which only month or year is on record is past when the whole of it is") {
    const KnownPlant known =
        known_at({segment_cells("S-1")},
                 {inspection_cells("S-1", "2013"), inspection_cells("S-1", "2014"),
                  inspection_cells("S-1", "2014-11")},
                 {}, at_2015);
    REQUIRE(known.plant.inspections.rows() == 1);
    CHECK(Date{known.plant.inspections.days(I::date)[0]} == make_date(2013, 1, 1));
}

TEST_CASE("two overrides that were in force together are told, and nothing is ranked") {
    Report report;
    PlantSources sources;
    sources.segments = source_from_text(csv_of({segment_cells("S-1")}), "segments.csv", report);
    sources.overrides =
        source_from_text(csv_of({override_cells("dry", "2010-01-01", "2016-01-01"),
                                 override_cells("severe", "2014-01-01", "2016-01-01")}),
                         "overrides.csv", report);
    CHECK_FALSE(plant_as_known(sources, published_rules(), at_2015, report).has_value());
    CHECK(report.errors() == 1);
}

}  // namespace
}  // namespace lagline
