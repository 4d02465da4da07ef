// A sheet of findings that comes back filled in.
#include "intake/filled_sheet.h"

#include <doctest/doctest.h>

#include "intake/source_file.h"
#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

const std::string head =
    "segment,date,technique,coverage [%],least_thickness [mm],pit_depth [mm],rust_grade,"
    "insulation_wet,jacket_damage,coating_renewed [%],cracks_found,report\n";

/// A folder with two segments, and what a sheet does to it.
class Desk {
  public:
    explicit Desk(const Files& files = {}) {
        folder_.write("plant.yaml", "name: Invented\n");
        folder_.write("segments.csv", segments());
        for (const auto& [name, text] : files) folder_.write(name, text);
    }
    FilledSheet check(const std::string& sheet) const {
        Report report;
        const auto sources = read_plant_sources(folder_.path(), rules_, report);
        const auto filled = source_from_text(sheet, "sheet.csv", report);
        INFO(to_text(report));
        REQUIRE(sources);
        REQUIRE(filled);
        LoadOptions options;
        options.at = make_date(2025, 1, 1);
        options.today = make_date(2024, 1, 1);
        return check_filled(*sources, *filled, rules_, options);
    }
    /// What is added; what is wrong where something is.
    std::string added(const std::string& sheet) const {
        const FilledSheet made = check(sheet);
        return made.plant ? made.added : summary(made.report);
    }

  private:
    const RuleSet& rules_ = published_rules();
    TempFolder folder_;
};

TEST_CASE("without inspections.csv a heading and the rows are added, the empty cells empty") {
    const Desk desk;
    CHECK(desk.added(head + "S-1,2023-05-01,strip_and_measure,60,5.1,,,yes,,,,\"IR, 1\"\n") ==
          head + "S-1,2023-05-01,strip_and_measure,60,5.1,,,yes,,,,\"IR, 1\"\n");
}

TEST_CASE("rows go into the columns that are there, in their order, units and line ends") {
    const Desk desk{{{"inspections.csv",
                      "report,least_thickness [in],date,segment,coverage [%],technique\r\n"
                      "IR-0,0.2,2010-02-03,S-2,40,strip_and_look"}}};
    const FilledSheet made = desk.check(
        "segment,date,technique,coverage [%],least_thickness [mm],report\n"
        "S-1,2023-05-01,strip_and_measure,60,5.08,\"a \"\"b\"\"\"\n"
        "S-2,2023-05-02,strip_and_measure,60,0.19 in,\n");
    INFO(to_text(made.report));
    REQUIRE(made.plant);
    // 25.4 mm to the inch.
    CHECK(made.added ==
          "\r\n\"a \"\"b\"\"\",0.2,2023-05-01,S-1,60,strip_and_measure\r\n"
          ",0.19 in,2023-05-02,S-2,60,strip_and_measure\r\n");
    const auto walls = made.plant->inspections.numbers(InspectionField::least_thickness);
    CHECK(walls[0] == doctest::Approx(5.08));
    CHECK(walls[1] == doctest::Approx(5.08));
    CHECK(walls[2] == doctest::Approx(4.826));
    CHECK(made.plant->inspections.texts(InspectionField::report)[1] == "a \"b\"");
}

TEST_CASE("a heading without a unit takes numbers that carry their own") {
    const Desk desk{{{"inspections.csv",
                      "segment,date,technique,coverage [%],least_thickness\n"
                      "S-2,2010-02-03,strip_and_look,40,5 mm\n"}}};
    CHECK(desk.added("segment,date,technique,coverage [%],least_thickness [mil]\n"
                     "S-1,2023-05-01,strip_and_measure,60,200\n") ==
          "S-1,2023-05-01,strip_and_measure,60,200 mil\n");
}

TEST_CASE("rows that hold no finding are listed and left out, whatever was filled in before") {
    const FilledSheet made = Desk{}.check(head +
                                          "S-1,,strip_and_measure,,,,,,,,,\n"
                                          "S-2,2023-05-01,strip_and_look,60,,,,,,,,\n"
                                          "\"S-2\",,,80,,,,,,,,IR-1\n");
    REQUIRE(made.plant);
    CHECK(made.sheet.rows() == 1);
    REQUIRE(made.blank.size() == 2);
    CHECK(made.blank[0].segment == "S-1");
    CHECK(made.blank[0].line == 2);
    CHECK(made.blank[1].segment == "S-2");
    CHECK(made.blank[1].line == 4);
    const FilledSheet none = Desk{}.check(head + "S-1,,strip_and_measure,,,,,,,,,\n");
    CHECK(none.report.ok());
    CHECK_FALSE(none.plant);
}

TEST_CASE("all that is wrong is told at once, at its place, and nothing is to be added") {
    const Desk desk{{{"inspections.csv",
                      "segment,date,technique,coverage [%],least_thickness [mm]\n"
                      "S-1,2020-05-01,strip_and_measure,60,5.1\n"}}};
    const FilledSheet made = desk.check(
        "segment,date,technique,coverage [%],least_thickness [mm]\n"
        "S-1,2024-01-02,strip_and_measure,60,5\n"
        "S-9,2023-05-01,strip_and_measure,60,5\n"
        "S-1,1990-05-01,strip_and_measure,60,5\n"
        "S-1,2020-05-01,strip_and_measure,60,5.1\n"
        "S-1,2020-05-01,strip_and_measure,60,4.9\n"
        "S-2,,strip_and_measure,,5\n"
        "S-2,2021-05-01,magic,60,-5\n"
        ",2021-05-01,strip_and_look,60,\n");
    CHECK(summary(made.report) ==
          "contradiction sheet.csv:2:5 date\n"
          "unknown-segment sheet.csv:3:1 segment\n"
          "contradiction sheet.csv:4:5 date\n"
          "duplicate-key sheet.csv:5:1 segment\n"
          "contradiction sheet.csv:6:37 least_thickness\n"
          "missing-value sheet.csv:7:5 date\n"
          "missing-value sheet.csv:7:24 coverage\n"
          "unknown-word sheet.csv:8:16 technique\n"
          "out-of-range sheet.csv:8:25 least_thickness\n"
          "missing-value sheet.csv:9:1 segment\n");
    CHECK_FALSE(made.plant);
    CHECK(made.added.empty());
}

TEST_CASE("a line is shown without its line end, as a spreadsheet saves it") {
    const FilledSheet made = Desk{}.check(
        "segment,date,technique,coverage [%]\r\nS-1,2023-05-01,strip_and_look,much\r\n");
    REQUIRE(made.report.diagnostics().size() == 1);
    CHECK(made.report.diagnostics()[0].excerpt.line == "S-1,2023-05-01,strip_and_look,much");
}

TEST_CASE("an inspection that stands twice in the sheet is told") {
    CHECK(Desk{}.added(head + "S-1,2023-05-01,strip_and_look,60,,,,,,,,\n"
                              "S-1,2023-05-01,strip_and_look,60,,,,,,,,\n") ==
          "duplicate-key sheet.csv:3:1 segment\n");
}

TEST_CASE("a value that inspections.csv has no column for is not lost") {
    const Desk desk{{{"inspections.csv",
                      "segment,date,technique,coverage [%]\n"
                      "S-1,2020-05-01,strip_and_look,60\n"}}};
    CHECK(desk.added(head + "S-1,2023-05-01,strip_and_measure,60,5.1,,,,,,,\n") ==
          "missing-column sheet.csv:2:37 least_thickness\n");
    CHECK(desk.added(head + "S-1,2023-05-01,strip_and_look,60,,,,,,,,\n") ==
          "S-1,2023-05-01,strip_and_look,60\n");
}

TEST_CASE("headings, words and columns of the site are those of its inspections.csv") {
    const Desk desk{{{"columns.yaml",
                      "inspections.csv:\n"
                      "  headings: {TML wall: \"least_thickness [in]\"}\n"
                      "  words: {technique: {stripped: strip_and_measure}}\n"
                      "  keep: [crew]\n"},
                     {"inspections.csv",
                      "crew,segment,date,technique,coverage [%],TML wall\n"
                      "B,S-1,2020-05-01,stripped,60,0.2\n"}}};
    CHECK(desk.added("segment,date,technique,coverage [%],least_thickness [mm],crew\n"
                     "S-1,2023-05-01,stripped,60,4.826,\"A, C\"\n") ==
          "\"A, C\",S-1,2023-05-01,stripped,60,0.19\n");
}

TEST_CASE("a name that was kept from running in a spreadsheet is read as it was") {
    const Desk desk{{{"segments.csv", std::string{needed_headings} + "\n" + segment_row("=S-1") +
                                          "\n" + segment_row("'S") + "\n"}}};
    CHECK(desk.added(head + "\"'=S-1\",2023-05-01,strip_and_look,60,,,,,,,,\n") ==
          head + "=S-1,2023-05-01,strip_and_look,60,,,,,,,,\n");
    CHECK(desk.added(head + "'S,2023-05-01,strip_and_look,60,,,,,,,,\n") ==
          head + "'S,2023-05-01,strip_and_look,60,,,,,,,,\n");
}

TEST_CASE("what is said of the rows with the history is told at the sheet") {
    const Desk desk;
    const FilledSheet made = desk.check(head + "S-1,2023-05-01,strip_and_measure,60,5,,,,,,,\n");
    REQUIRE(made.plant);
    Report found;
    found.add({.problem = Problem::contradiction,
               .where = {made.plant->inspections.source.file, 2, 1},
               .subject = "least_thickness",
               .found = "x",
               .expected = "y",
               .mend = "z",
               .excerpt = {}});
    CHECK(summary(made.of_added(found)) == "contradiction sheet.csv:2:37 least_thickness\n");
}

TEST_CASE("what is left at a pit and the pit are no more than a wall") {
    const Desk desk;
    const FilledSheet made = desk.check(head + "S-1,2023-05-01,strip_and_measure,60,5.5,3,,,,,,\n");
    CHECK(summary(made.report) == "contradiction sheet.csv:2:37 least_thickness\n");
    CHECK(made.report.ok());
    CHECK(summary(desk.check(head + "S-1,2023-05-01,strip_and_measure,60,,9,,,,,,\n").report) ==
          "contradiction sheet.csv:2:38 pit_depth\n");
}

}  // namespace
}  // namespace lagline
