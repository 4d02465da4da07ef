// A plant folder whose tables are sheets of workbooks.
#include <doctest/doctest.h>

#include "intake/load_plant.h"
#include "support/rules.h"
#include "support/temp_folder.h"
#include "zipped.h"

namespace lagline {
namespace {

constexpr std::string_view plant_yaml = "name: Invented works\ncurrency: USD\n";

std::string text_cell(std::string_view text) {
    return "<c t=\"inlineStr\"><is><t>" + std::string{text} + "</t></is></c>";
}

const std::string headings = "<row r=\"1\">" + text_cell("segment") + text_cell("line") +
                             text_cell("unit") + text_cell("material") +
                             text_cell("nominal_size [NPS]") + text_cell("nominal_wall [mm]") +
                             text_cell("operating_temperature [degC]") +
                             text_cell("insulation_type") + text_cell("in_service") + "</row>";

// A segment in row `row`: numbers as numbers, the date as day number 34486, 1994-06-01.
std::string segment(int row, const std::string& wall = "<c><v>6.02</v></c>",
                    const std::string& size = "<c><v>4</v></c>") {
    return "<row r=\"" + std::to_string(row) + "\">" + text_cell("S-" + std::to_string(row)) +
           text_cell("L-1") + text_cell("U1") + text_cell("carbon_steel") + size + wall +
           "<c><v>82</v></c>" + text_cell("mineral_wool") + "<c s=\"1\"><v>34486</v></c></row>";
}

// The plant of a folder with these files; plant.yaml is added.
LoadedPlant load(const TempFolder& folder) {
    folder.write("plant.yaml", plant_yaml);
    LoadOptions options;
    options.at = make_date(2025, 1, 1);
    options.today = make_date(2024, 1, 1);
    LoadedPlant loaded = load_plant(folder.path(), published_rules(), options);
    loaded.report.sort();
    return loaded;
}

// Every diagnostic as "code place", the folder left off.
std::vector<std::string> told(const TempFolder& folder, const Report& report) {
    std::vector<std::string> all;
    const std::string prefix = folder.path().string();
    for (const Diagnostic& each : report.diagnostics()) {
        std::string place = to_string(each.where);
        if (place.starts_with(prefix)) place.erase(0, prefix.size());
        all.push_back(std::string{code_of(each.problem)} + " " + place);
    }
    return all;
}
using Told = std::vector<std::string>;

TEST_CASE("segments.xlsx is read like segments.csv") {
    const TempFolder folder;
    folder.write("segments.xlsx", zipped(workbook_parts(headings + segment(2) + segment(4))));
    const LoadedPlant loaded = load(folder);
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    const SegmentSheet& sheet = loaded.plant->segments;
    using S = SegmentField;
    REQUIRE(sheet.rows() == 2);
    CHECK(sheet.texts(S::segment)[1] == "S-4");
    CHECK(sheet.numbers(S::nominal_wall)[0] == 6.02);
    CHECK(to_string(Date{sheet.days(S::in_service)[0]}) == "1994-06-01");
    CHECK(sheet.row_lines[1] == 4);
}

TEST_CASE("a fault of a cell is told by sheet and cell") {
    const TempFolder folder;
    folder.write("segments.xlsx", zipped(workbook_parts(headings + segment(2, text_cell("thick")) +
                                                        segment(7, "<c t=\"e\"><v>#N/A</v></c>"))));
    const LoadedPlant loaded = load(folder);
    CHECK_FALSE(loaded.plant);
    CHECK(told(folder, loaded.report) == Told{"not-a-number /segments.xlsx:pipes!F2",
                                              "unreadable-cell /segments.xlsx:pipes!F7",
                                              "missing-value /segments.xlsx:pipes!F7"});
    const Diagnostic& wall = loaded.report.diagnostics()[0];
    CHECK(wall.excerpt.line.substr(wall.excerpt.mark, wall.excerpt.width) == "thick");
    const std::string text = to_text(loaded.report);
    CHECK(text.find("segments.xlsx:pipes!F2: error [not-a-number] nominal_wall") !=
          std::string::npos);
    CHECK(to_json(loaded.report).find("\"cell\": \"F2\"") != std::string::npos);
    CHECK(to_json(loaded.report).find("\"sheet\": \"pipes\"") != std::string::npos);
}

TEST_CASE("texts with commas, quotes and line breaks keep their cells, and rows their numbers") {
    const TempFolder folder;
    const std::string odd = "a,b &quot;c&quot;&#10;d";
    std::string second = segment(3);
    second.replace(second.find("L-1"), 3, odd);
    folder.write("segments.xlsx",
                 zipped(workbook_parts(headings + second + segment(5, text_cell("thick")))));
    const LoadedPlant loaded = load(folder);
    CHECK(told(folder, loaded.report) == Told{"not-a-number /segments.xlsx:pipes!F5"});
}

TEST_CASE("a cell behind the last heading is told where it stands") {
    const TempFolder folder;
    std::string row = segment(2);
    row.insert(row.find("</row>"), "<c r=\"XFD2\"><v>1</v></c>");
    folder.write("segments.xlsx", zipped(workbook_parts(headings + row)));
    CHECK(told(folder, load(folder).report) == Told{"csv-field-count /segments.xlsx:pipes!XFD2"});
}

TEST_CASE("a name that stands twice is told with its row") {
    const TempFolder folder;
    std::string again = segment(3);
    again.replace(again.find("S-3"), 3, "S-2");
    folder.write("segments.xlsx", zipped(workbook_parts(headings + segment(2) + again)));
    const LoadedPlant loaded = load(folder);
    CHECK(told(folder, loaded.report) == Told{"duplicate-key /segments.xlsx:pipes!A3"});
    CHECK(loaded.report.diagnostics()[0].found == "segment 'S-2', which stands already in row 2");
}

TEST_CASE("two forms of the same table are refused") {
    const TempFolder folder;
    folder.write("segments.xlsx", zipped(workbook_parts(headings + segment(2))));
    folder.write("segments.csv", "segment\n");
    const LoadedPlant loaded = load(folder);
    CHECK_FALSE(loaded.plant);
    REQUIRE(told(folder, loaded.report) == Told{"doubled-file "});
    CHECK(loaded.report.diagnostics()[0].found == "segments.csv and segments.xlsx");
}

// A workbook of sheets with these names, all with the same cells.
std::string with_sheets(const std::vector<std::string>& names, const std::string& cells) {
    Parts parts = workbook_parts(cells);
    std::string sheets;
    for (const std::string& name : names) {
        sheets += "<sheet name=\"" + name + "\" r:id=\"s1\"/>";
    }
    parts["xl/workbook.xml"] = "<workbook xmlns:r=\"x\"><sheets>" + sheets + "</sheets></workbook>";
    return zipped(parts);
}

TEST_CASE("of several sheets the one of the table's name is read, and the others are told") {
    const TempFolder folder;
    folder.write("segments.xlsx", with_sheets({"notes", "Segments"}, headings + segment(2)));
    const LoadedPlant named = load(folder);
    CHECK(named.plant);
    CHECK(told(folder, named.report) == Told{"unknown-sheet /segments.xlsx:notes"});
    CHECK(named.report.warnings() == 1);

    folder.write("segments.xlsx", with_sheets({"one", "two"}, headings + segment(2)));
    const LoadedPlant unnamed = load(folder);
    CHECK_FALSE(unnamed.plant);
    CHECK(told(folder, unnamed.report) == Told{"unknown-sheet /segments.xlsx"});
}

TEST_CASE("plant.xlsx holds the tables as sheets") {
    const TempFolder folder;
    folder.write("plant.xlsx", with_sheets({"segments", "inspection"}, headings + segment(2)));
    const LoadedPlant loaded = load(folder);
    CHECK(loaded.plant);
    REQUIRE(told(folder, loaded.report) == Told{"unknown-sheet /plant.xlsx:inspection"});
    CHECK(loaded.report.diagnostics()[0].mend.find("inspections") != std::string::npos);

    folder.write("segments.csv", "segment\n");
    const LoadedPlant doubled = load(folder);
    CHECK_FALSE(doubled.plant);
    CHECK(doubled.report.diagnostics()[0].found ==
          "segments.csv and the sheet segments of plant.xlsx");
}

TEST_CASE("a workbook that cannot be opened is told once, an empty one too") {
    const TempFolder folder;
    folder.write("plant.xlsx", "no workbook");
    CHECK(told(folder, load(folder).report) == Told{"damaged-workbook /plant.xlsx"});
    folder.write("plant.xlsx", "");
    CHECK(told(folder, load(folder).report) == Told{"empty-file /plant.xlsx"});
    folder.write("plant.xlsx", with_sheets({"segments"}, ""));
    CHECK(told(folder, load(folder).report) == Told{"empty-file /plant.xlsx:segments"});
}

TEST_CASE("columns.yaml maps a table by either name of its file, not by both") {
    const TempFolder folder;
    std::string cells = headings + segment(2);
    cells.replace(cells.find("insulation_type"), 15, "lagging");
    folder.write("segments.xlsx", zipped(workbook_parts(cells)));
    const std::string map = ":\n  headings: {lagging: insulation_type}\n";
    for (const std::string name : {"segments.xlsx", "segments.csv"}) {
        folder.write("columns.yaml", name + map);
        CHECK(load(folder).plant);
    }
    folder.write("columns.yaml", "segments.xlsx" + map + "segments.csv" + map);
    const LoadedPlant both = load(folder);
    CHECK_FALSE(both.plant);
    CHECK(code_of(both.report.diagnostics()[0].problem) == "duplicate-key");
}

}  // namespace
}  // namespace lagline
