#include "degradation/history.h"

#include "degradation/coating.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// Nominal wall 7.11 mm in service and coated on 2005-01-01; 0.1 mm/y once a life of 5 years is
// over, so that 6.11 mm are expected on 2020-01-01.
constexpr double tenth_mm_per_year = 0.1;

double exposed_after_life_of_5(const History& known, Date day) {
    const Date coated = make_date(2005, 1, 1);
    const double since = years_between(known.wall_known, day);
    return since - coating_credit_years(5.0, years_between(coated, day), since,
                                        known.failed_at != History::nothing);
}

struct Read {
    History history;
    std::vector<std::uint8_t> effectiveness;
    std::vector<Reading> readings;
};

Read read(const std::vector<Cells>& inspections, const Cells& segment_changes = {},
          Date until = make_date(2025, 1, 1)) {
    const Plant plant =
        assemble({.segments = {segment_cells("S-1", segment_changes)}, .inspections = inspections},
                 published_rules());
    const auto effectiveness = inspection_effectiveness(plant, published_rules());
    std::vector<Reading> readings;
    const History history =
        read_history(plant, 0, until, effectiveness, history_rules(published_rules()),
                     tenth_mm_per_year, exposed_after_life_of_5, readings);
    return {history, effectiveness, readings};
}

std::uint8_t category(const char* word) {
    return code_of(published_rules(), "effectiveness", word);
}

TEST_CASE("history without inspections: nominal wall, known since the day in service") {
    const History got = read({}).history;
    CHECK(got.wall_mm == 7.11);
    CHECK(got.wall_known == make_date(2005, 1, 1));
    CHECK(got.reading == History::nothing);
    CHECK(got.failed_at == History::nothing);
}

TEST_CASE("an accepted reading becomes the wall and starts the clock, above or below expectation") {
    for (const char* wall : {"7.0 mm", "5.0 mm"}) {
        CAPTURE(std::string{wall});
        const Read got = read({inspection_cells("S-1", "2020-01-01", {{"least_thickness", wall}})});
        CHECK(got.effectiveness[0] == category("A"));
        CHECK(got.history.wall_mm == std::stod(wall));
        CHECK(got.history.wall_known == make_date(2020, 1, 1));
        CHECK(got.history.reading == 0);
    }
}

TEST_CASE("a pit depth is taken off the nominal wall, and never below zero") {
    const auto with_pit = [](const char* pit) {
        return read({inspection_cells("S-1", "2020-01-01", {{"pit_depth", pit}})}).history.wall_mm;
    };
    CHECK(with_pit("2 mm") == doctest::Approx(5.11).epsilon(1e-14));
    CHECK(with_pit("9 mm") == 0.0);
}

TEST_CASE("a least thickness goes before a pit depth of the same inspection") {
    const auto got = read({inspection_cells("S-1", "2020-01-01",
                                            {{"least_thickness", "6 mm"}, {"pit_depth", "3 mm"}})});
    CHECK(got.history.wall_mm == 6.0);
}

TEST_CASE("an ineffective reading counts only below the wall expected at its day") {
    const Cells little{{"technique", "ut_through_plugs"}, {"coverage", "2 %"}};
    const auto with_wall = [&](const char* wall) {
        Cells cells = little;
        cells["least_thickness"] = wall;
        return read({inspection_cells("S-1", "2020-01-01", cells)});
    };
    const Read above = with_wall("6.12 mm");
    CHECK(above.effectiveness[0] == category("E"));
    CHECK(above.history.wall_mm == 7.11);
    CHECK(above.history.wall_known == make_date(2005, 1, 1));
    CHECK(above.history.reading == History::nothing);
    const Read below = with_wall("6.10 mm");
    CHECK(below.effectiveness[0] == category("E"));
    CHECK(below.history.wall_mm == 6.10);
    CHECK(below.history.wall_known == make_date(2020, 1, 1));
    CHECK(below.history.reading == 0);
}

TEST_CASE("what is expected of a later ineffective reading starts at the reading before it") {
    // 6 mm in 2015, coating worn out since 2010: 5.5 mm expected in 2020.
    const Cells little{{"technique", "ut_through_plugs"}, {"coverage", "2 %"}};
    const auto second = [&](const char* wall) {
        Cells cells = little;
        cells["least_thickness"] = wall;
        return read({inspection_cells("S-1", "2015-01-01", {{"least_thickness", "6 mm"}}),
                     inspection_cells("S-1", "2020-01-01", cells)})
            .history;
    };
    CHECK(second("5.51 mm").reading == 0);
    CHECK(second("5.49 mm").reading == 1);
}

TEST_CASE("a coating found failed on the day of a reading gives it no credit") {
    // With the credit of 5 years 6.11 mm are expected in 2020, without it 5.61 mm.
    const auto counts = [&](const char* wall, const char* grade) {
        return read({inspection_cells("S-1", "2020-01-01",
                                      {{"technique", "ut_through_plugs"},
                                       {"coverage", "2 %"},
                                       {"least_thickness", wall},
                                       {"rust_grade", grade}})})
                   .history.reading == 0;
    };
    CHECK(counts("6 mm", "8"));
    CHECK_FALSE(counts("6 mm", "2"));
    CHECK(counts("5.5 mm", "2"));
}

TEST_CASE("between a twentieth and a quarter of the surface a reading counts where it is worse") {
    for (const char* coverage : {"5 %", "5.1 %", "25 %"}) {
        CAPTURE(coverage);
        const auto with = [&](const char* wall) {
            return read({inspection_cells("S-1", "2020-01-01",
                                          {{"coverage", coverage}, {"least_thickness", wall}})})
                .history;
        };
        CHECK(with("7 mm").reading == History::nothing);
        const History worse = with("6 mm");
        CHECK(worse.reading == 0);
        CHECK(worse.accepted_mm == 7.11);
        CHECK(worse.accepted_known == make_date(2005, 1, 1));
    }
}

TEST_CASE("the thinnest wall stands until an accepted reading") {
    const auto read_at = [](const char* date, const char* wall, const char* coverage) {
        return inspection_cells("S-1", date, {{"least_thickness", wall}, {"coverage", coverage}});
    };
    const Cells thin = read_at("2010-01-01", "2.5 mm", "2 %");
    const auto thinnest = [&](const std::vector<Cells>& rows) { return read(rows).history; };
    CHECK(thinnest({}).thinnest == History::nothing);
    CHECK(thinnest({thin}).thinnest_mm == 2.5);
    CHECK(thinnest({thin, read_at("2015-01-01", "2.7 mm", "2 %")}).thinnest_mm == 2.5);
    CHECK(thinnest({thin, read_at("2015-01-01", "2.7 mm", "100 %")}).thinnest_mm == 2.7);
    // Also one that contradicts it, which is flagged.
    CHECK(thinnest({thin, read_at("2015-01-01", "5 mm", "100 %")}).thinnest_mm == 5.0);
    // A pipe that was replaced since.
    Plant renewed =
        assemble({.segments = {segment_cells("S-1")}, .inspections = {thin}}, published_rules());
    renewed.segments.column(SegmentField::in_service).days[0] = make_date(2012, 1, 1).days;
    std::vector<Reading> readings;
    CHECK(read_history(renewed, 0, make_date(2025, 1, 1),
                       inspection_effectiveness(renewed, published_rules()),
                       history_rules(published_rules()), tenth_mm_per_year, exposed_after_life_of_5,
                       readings)
              .thinnest == History::nothing);
}

TEST_CASE("readings are taken in the order of their dates, not of the file") {
    const auto got = read({inspection_cells("S-1", "2020-01-01", {{"least_thickness", "5 mm"}}),
                           inspection_cells("S-1", "2012-01-01", {{"least_thickness", "6.5 mm"}})});
    CHECK(got.history.wall_mm == 5.0);
    CHECK(got.history.reading == 0);
}

TEST_CASE("what was found after the date is not known at the date; on the day it is") {
    const std::vector<Cells> found{
        inspection_cells("S-1", "2020-01-01", {{"least_thickness", "5 mm"}, {"rust_grade", "2"}})};
    const History before = read(found, {}, make_date(2019, 12, 31)).history;
    CHECK(before.wall_mm == 7.11);
    CHECK(before.failed_at == History::nothing);
    const History on_the_day = read(found, {}, make_date(2020, 1, 1)).history;
    CHECK(on_the_day.wall_mm == 5.0);
    CHECK(on_the_day.failed_at == 0);
}

TEST_CASE("a rust grade at or below the failed grade tells that the coating has failed") {
    // Grade 4 of ASTM D610 is the failed grade of the published set.
    const auto failed_at = [](const char* grade) {
        return read({inspection_cells("S-1", "2020-01-01", {{"rust_grade", grade}})})
            .history.failed_at;
    };
    CHECK(failed_at("10") == History::nothing);
    CHECK(failed_at("5") == History::nothing);
    CHECK(failed_at("4") == 0);
    CHECK(failed_at("3") == 0);
    CHECK(failed_at("0") == 0);
}

TEST_CASE("a rust grade found before recoating says nothing of the present coating") {
    const auto with_coating = [](const char* coated) {
        return read({inspection_cells("S-1", "2015-06-01", {{"rust_grade", "1"}})},
                    {{"coating_date", coated}})
            .history.failed_at;
    };
    CHECK(with_coating("2005-01-01") == 0);
    CHECK(with_coating("2015-05-31") == 0);
    // The same day: the coating that was there before the recoat.
    CHECK(with_coating("2015-06-01") == History::nothing);
    CHECK(with_coating("2015-06-02") == History::nothing);
}

TEST_CASE("effectiveness by technique and coverage: Table 2.C.10.3 of API RP 581 (3rd ed.)") {
    // Rows "strip_and_measure": insulation removed, 100 %, more than 50, 25 and 5 %; radiography:
    // 100 % and more than 65 % read, 35 and 5 % recalled.
    struct Row {
        const char *technique, *coverage, *category;
    };
    const std::vector<Row> rows{
        {"strip_and_measure", "100 %", "A"},  {"strip_and_measure", "99 %", "B"},
        {"strip_and_measure", "51 %", "B"},   {"strip_and_measure", "50 %", "C"},
        {"strip_and_measure", "26 %", "C"},   {"strip_and_measure", "25 %", "D"},
        {"strip_and_measure", "6 %", "D"},    {"strip_and_measure", "5 %", "E"},
        {"strip_and_measure", "0 %", "E"},    {"profile_radiography", "100 %", "A"},
        {"profile_radiography", "66 %", "B"}, {"profile_radiography", "65 %", "C"},
        {"profile_radiography", "35 %", "D"}, {"profile_radiography", "5 %", "E"},
        {"external_visual", "100 %", "E"},    {"thermography", "100 %", "E"}};
    std::vector<Cells> inspections;
    for (const Row& row : rows) {
        inspections.push_back(inspection_cells(
            "S-1", "2020-01-01", {{"technique", row.technique}, {"coverage", row.coverage}}));
    }
    const auto got = read(inspections).effectiveness;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        CAPTURE(std::string{rows[i].technique});
        CAPTURE(std::string{rows[i].coverage});
        CHECK(got[i] == category(rows[i].category));
    }
}

}  // namespace
}  // namespace lagline
