#include "degradation/readings.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "degradation/history.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

const Date ranked = make_date(2025, 1, 1);

std::vector<Reading> readings_of(const std::vector<Cells>& inspections, bool keeps_smaller,
                                 Date until = ranked) {
    const Plant plant = assemble({.segments = {segment_cells("S-1")}, .inspections = inspections},
                                 published_rules());
    ReadingRules rules = reading_rules(published_rules());
    rules.keeps_smaller = keeps_smaller;
    std::vector<Reading> readings(3);  // is emptied first
    read_readings(plant, 0, until, inspection_effectiveness(plant, published_rules()), rules,
                  readings);
    return readings;
}

Cells read(const char* date, const char* wall, const char* technique = "strip_and_measure",
           const char* coverage = "100 %") {
    return inspection_cells(
        "S-1", date, {{"least_thickness", wall}, {"technique", technique}, {"coverage", coverage}});
}

TEST_CASE("readings come by date, with wall, share and whether the effectiveness is accepted") {
    const auto got = readings_of({read("2020-01-01", "6 mm", "strip_and_measure", "60 %"),
                                  inspection_cells("S-1", "2018-01-01"),
                                  read("2010-01-01", "6.5 mm", "ut_through_plugs", "2 %"),
                                  inspection_cells("S-1", "2022-01-01", {{"pit_depth", "2 mm"}})},
                                 false);
    REQUIRE(got.size() == 3);
    CHECK(got[0].row == 2);
    CHECK(got[0].share == doctest::Approx(0.02));
    CHECK_FALSE(got[0].accepted);
    CHECK(got[1].row == 0);
    CHECK(got[1].wall_mm == 6.0);
    CHECK(got[1].share == doctest::Approx(0.6));
    CHECK(got[1].accepted);
    CHECK(got[2].wall_mm == doctest::Approx(5.11).epsilon(1e-14));
}

TEST_CASE("readings after the day are not read") {
    CHECK(readings_of({read("2020-01-02", "6 mm")}, false, make_date(2020, 1, 1)).empty());
    CHECK(readings_of({read("2020-01-02", "6 mm")}, false, make_date(2020, 1, 2)).size() == 1);
}

TEST_CASE(
    "a reading above the one before conflicts beyond the tolerance, 0.3 mm of strip_and_measure") {
    struct Row {
        const char* second;
        bool conflicts;
    };
    for (const Row& row : {Row{"5.9 mm", false}, Row{"6.3 mm", false}, Row{"6.31 mm", true}}) {
        CAPTURE(std::string{row.second});
        const std::vector<Cells> two{read("2010-01-01", "6 mm"), read("2015-01-01", row.second)};
        const auto used = readings_of(two, false);
        CHECK(used[1].conflicts == row.conflicts);
        CHECK_FALSE(used[1].set_aside);
        const auto kept = readings_of(two, true);
        CHECK(kept[1].conflicts == row.conflicts);
        CHECK(kept[1].set_aside == row.conflicts);
    }
}

TEST_CASE("the coarser of the two techniques gives the tolerance, whichever comes first") {
    // Guided wave 2.0 mm against strip_and_measure 0.3 mm.
    const auto wave = [](const char* date, const char* wall) {
        return read(date, wall, "guided_wave");
    };
    CHECK_FALSE(
        readings_of({wave("2010-01-01", "5 mm"), read("2015-01-01", "7 mm")}, false)[1].conflicts);
    CHECK(readings_of({wave("2010-01-01", "5 mm"), read("2015-01-01", "7.1 mm")}, false)[1]
              .conflicts);
    CHECK_FALSE(
        readings_of({read("2010-01-01", "5 mm"), wave("2015-01-01", "7 mm")}, false)[1].conflicts);
}

TEST_CASE("the nominal wall is no reading: the first reading above it does not conflict") {
    CHECK_FALSE(readings_of({read("2010-01-01", "8 mm")}, true)[0].conflicts);
}

TEST_CASE("kept: later readings are compared with the wall that was kept; used: with the last") {
    const std::vector<Cells> three{read("2010-01-01", "5 mm"), read("2015-01-01", "6 mm"),
                                   read("2020-01-01", "5.9 mm")};
    CHECK(readings_of(three, true)[2].conflicts);
    CHECK_FALSE(readings_of(three, false)[2].conflicts);
}

TEST_CASE("an unaccepted reading cannot conflict, and lowers what the next is compared with") {
    const auto little = [](const char* date, const char* wall) {
        return read(date, wall, "ut_through_plugs", "2 %");
    };
    CHECK_FALSE(readings_of({read("2010-01-01", "5 mm"), little("2015-01-01", "7 mm")}, false)[1]
                    .conflicts);
    // It is no comfort either: 5.5 mm is still compared with 5 mm.
    CHECK(readings_of({read("2010-01-01", "5 mm"), little("2015-01-01", "7 mm"),
                       read("2020-01-01", "5.5 mm")},
                      false)[2]
              .conflicts);
    CHECK(readings_of({little("2010-01-01", "5 mm"), read("2015-01-01", "7 mm")}, false)[1]
              .conflicts);
}

TEST_CASE("of one day the thinner reading comes last, whatever cell it stands in and cracks say") {
    // A pit of 4.11 mm in 7.11 mm leaves 3 mm.
    const Cells thick = inspection_cells("S-1", "2015-01-01",
                                         {{"least_thickness", "5.5 mm"}, {"cracks_found", "yes"}});
    const Cells thin = inspection_cells("S-1", "2015-01-01", {{"pit_depth", "4.11 mm"}});
    for (const auto& both : {std::vector{thick, thin}, std::vector{thin, thick}}) {
        const auto got = readings_of(both, false);
        REQUIRE(got.size() == 2);
        CHECK(got[0].wall_mm == 5.5);
        CHECK(got[1].wall_mm == doctest::Approx(3.0).epsilon(1e-14));
    }
}

TEST_CASE("each conflict of the plant is warned of once, at its cell, with both walls") {
    const Plant plant = assemble(
        {.segments = {segment_cells("S-1"), segment_cells("S-2")},
         .inspections = {read("2010-01-01", "5 mm"), read("2015-01-01", "6 mm"),
                         inspection_cells("S-2", "2015-01-01", {{"least_thickness", "6 mm"}})}},
        published_rules());
    Report report;
    report_conflicting_readings(plant, published_rules(), report);
    REQUIRE(report.diagnostics().size() == 1);
    const Diagnostic& told = report.diagnostics().front();
    CHECK(told.severity == Severity::warning);
    CHECK(told.where.line == 3);
    CHECK(told.found.find("6 mm") != std::string::npos);
    CHECK(told.expected.find("5 mm") != std::string::npos);
    CHECK(told.mend.find("is used") != std::string::npos);
}

}  // namespace
}  // namespace lagline
