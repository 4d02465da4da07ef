// What must agree between rows and between files.
#include <doctest/doctest.h>

#include "plant_folder.h"

namespace lagline {
namespace {

const std::string inspection_head = "segment,date,technique,coverage [%],least_thickness [mm]\n";
const std::string window_head = "name,start,end\n";

struct Case {
    Files files;
    std::string problem, found, mend;
    Severity severity = Severity::error;
};

void check(const Case& each) {
    CAPTURE(each.problem);
    const auto loaded = load(each.files);
    CHECK(summary(loaded.report) == each.problem);
    CHECK(holds(only(loaded).found, each.found));
    CHECK(holds(only(loaded).mend, each.mend));
    CHECK(only(loaded).severity == each.severity);
    CHECK(loaded.plant.has_value() == (each.severity == Severity::warning));
}

TEST_CASE("segments: each once") {
    check({{{"segments.csv", segments() + segment_row("S-1") + "\n"}},
           "duplicate-key segments.csv:4:1 segment\n",
           "segment 'S-1', which stands already in line 2",
           "rename one of the two"});
}

TEST_CASE("inspections: of segments that are there, and not before they were built") {
    check({{{"segments.csv", std::string{needed_headings} + "\n" + segment_row("S-0107") + "\n"},
            {"inspections.csv", inspection_head + "S-0170,2020-01-01,strip_and_measure,50,\n"}},
           "unknown-segment inspections.csv:2:1 segment\n",
           "segment 'S-0170'",
           "did you mean 'S-0107'?"});
    check({{{"inspections.csv", inspection_head + "Q,2020-01-01,strip_and_measure,50,\n"}},
           "unknown-segment inspections.csv:2:1 segment\n",
           "segment 'Q'",
           "correct the name, or add the segment"});
    check({{{"inspections.csv", inspection_head + "S-1,1990-01-01,strip_and_measure,50,\n"}},
           "contradiction inspections.csv:2:5 date\n",
           "an inspection on 1990-01-01",
           "correct the date here or in_service in segments.csv"});
}

TEST_CASE("inspections are in the order of their days, those of one day in the order of the file") {
    const auto loaded =
        load({{"inspections.csv", inspection_head + "S-2,2020-05-01,strip_and_measure,10,\n"
                                                    "S-1,2020-01-01,strip_and_measure,20,\n"
                                                    "S-2,2010-01-01,strip_and_measure,30,\n"
                                                    "S-2,2020-05-01,strip_and_measure,40,\n"}});
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->inspection_begin == std::vector<std::uint32_t>{0, 1, 4});
    CHECK(loaded.plant->inspection_order == std::vector<std::uint32_t>{1, 2, 0, 3});
}

TEST_CASE("what cannot be true together within a row") {
    check({{{"segments.csv", std::string{needed_headings} +
                                 ",temperature_low [degC],temperature_high [degC]\n" +
                                 std::string{one_row} + ",90,80\n"}},
           "contradiction segments.csv:2:59 temperature_low\n",
           "90 degC",
           "correct this cell"});
    check({{{"segments.csv", std::string{needed_headings} +
                                 "\nS-1,L-1,U1,carbon_steel,4,60.2,82,mineral_wool,1994-06-01\n"}},
           "contradiction segments.csv:2:27 nominal_wall\n",
           "60.2 mm",
           "correct this cell"});
}

TEST_CASE("what is hardly true together is a warning") {
    check({{{"segments.csv", std::string{needed_headings} + ",outside_diameter [mm]\n" +
                                 std::string{one_row} + ",120.3\n"}},
           "contradiction segments.csv:2:59 outside_diameter\n",
           "120.3 mm",
           "",
           Severity::warning});
    check({{{"segments.csv", std::string{needed_headings} + ",minimum_thickness [mm]\n" +
                                 std::string{one_row} + ",7\n"}},
           "contradiction segments.csv:2:59 minimum_thickness\n",
           "7 mm",
           "",
           Severity::warning});
    check({{{"inspections.csv", inspection_head + "S-1,2020-01-01,strip_and_measure,50,12\n"}},
           "contradiction inspections.csv:2:37 least_thickness\n",
           "12 mm",
           "check the reading, its unit and the nominal wall",
           Severity::warning});
}

TEST_CASE("windows: each once, and not ending before they start") {
    check({{{"turnarounds.csv", window_head + "TA,2027-04-05,2027-04-04\n"}},
           "contradiction turnarounds.csv:2:15 end\n",
           "2027-04-04",
           "correct one of the two days"});
    check({{{"turnarounds.csv",
             window_head + "TA,2027-04-05,2027-05-09\nTA,2030-04-05,2030-05-09\n"}},
           "duplicate-key turnarounds.csv:3:1 name\n",
           "window 'TA', which stands already in line 2",
           "rename one of the two"});
}

TEST_CASE("all problems of all files are in the one report, in the order of file and place") {
    const auto loaded =
        load({{"plant.yaml", "name: x\ncurrency: USD\nclimat: {}\n"},
              {"segments.csv", segments("driver", "bad")},
              {"inspections.csv", inspection_head + "S-9,2020-13-01,strip,150,-1\n"},
              {"turnarounds.csv", window_head + "TA,2027-04-05,\n"},
              {"columns.yaml", "segment: {}\n"}});
    CHECK(summary(loaded.report) ==
          "unknown-key columns.yaml:1:1 columns.yaml\n"
          "unknown-segment inspections.csv:2:1 segment\n"
          "not-a-date inspections.csv:2:5 date\n"
          "unknown-word inspections.csv:2:16 technique\n"
          "out-of-range inspections.csv:2:22 coverage\n"
          "out-of-range inspections.csv:2:26 least_thickness\n"
          "unknown-key plant.yaml:3:1 plant.yaml\n"
          "unknown-word segments.csv:2:59 driver\n"
          "unknown-word segments.csv:3:59 driver\n"
          "missing-value turnarounds.csv:2:15 end\n");
    // One report for people and for programs.
    const std::string json = to_json(loaded.report);
    const std::string text = to_text(loaded.report);
    for (const Diagnostic& each : loaded.report.diagnostics()) {
        CHECK(holds(json, "\"line\": " + std::to_string(each.where.line)));
        CHECK(holds(
            text, to_string(each.where) + ": error [" + std::string{code_of(each.problem)} + "]"));
        CHECK(holds(json, "\"" + std::string{code_of(each.problem)} + "\""));
    }
}

}  // namespace
}  // namespace lagline
