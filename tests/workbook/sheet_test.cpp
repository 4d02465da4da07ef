// Rows, places, hidden and merged cells, sheets of a workbook.
#include <doctest/doctest.h>

#include "zipped.h"

namespace lagline {
namespace {

using Cells = std::vector<std::string>;

TEST_CASE("rows and columns may be left out, and references too") {
    const ReadSheet read = read_cells(
        R"(<row r="2"><c r="B2"><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>)"
        R"(<row r="1048576"><c r="XFD1048576"><v>4</v></c></row>)");
    CHECK(read.report.diagnostics().empty());
    CHECK(read.table);
    CHECK(read.cells == Cells{"B2=1", "C2=2", "A3=3", "XFD1048576=4"});
}

TEST_CASE("hidden rows and columns are read, and that is said once each") {
    const ReadSheet read = read_first([] {
        Parts parts = workbook_parts(
            R"(<row r="1"><c><v>1</v></c><c><v>2</v></c></row><row r="2" hidden="1"><c><v>3</v></c></row>)"
            R"(<row r="3" hidden="true"><c><v>4</v></c></row><row r="4" hidden="1"><c s="1"/></row>)");
        std::string& sheet = parts["xl/worksheets/sheet1.xml"];
        sheet.insert(
            sheet.find("<sheetData>"),
            R"(<cols><col min="2" max="2" hidden="1"/><col min="3" max="16384" hidden="1"/></cols>)");
        return zipped(parts);
    }());
    CHECK(read.cells == Cells{"A1=1", "B1=2", "A2=3", "A3=4"});
    CHECK(read.table);
    REQUIRE(read.report.warnings() == 2);
    const auto& told = read.report.diagnostics();
    CHECK(to_string(told[0].where) == "made.xlsx:pipes!2");
    CHECK(told[0].found == "2 hidden rows, this the first, read like the others");
    CHECK(to_string(told[1].where) == "made.xlsx:pipes!B1");
    CHECK(told[1].found == "1 hidden column, read like the others");
    CHECK(code_of(told[1].problem) == "hidden-cells");
}

TEST_CASE("merged cells are refused where they reach into the cells, else left alone") {
    const std::string rows =
        "<row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c><c><v>4</v></c></row>";
    const ReadSheet merged =
        read_cells(rows, R"(<mergeCells><mergeCell ref="B1:B2"/></mergeCells>)");
    CHECK(only(merged.report) == "merged-cells made.xlsx:pipes!B1: merged cells B1:B2");
    CHECK_FALSE(merged.table);
    const ReadSheet outside = read_cells(
        rows, R"(<mergeCells><mergeCell ref="D1:D2"/><mergeCell ref="A9:B9"/></mergeCells>)");
    CHECK(outside.report.diagnostics().empty());
}

TEST_CASE("a hidden sheet is read, and that is said; the name stands in the place, quoted") {
    Parts parts = workbook_parts("<row><c t=\"e\"><v>#REF!</v></c></row>");
    parts["xl/workbook.xml"] =
        R"(<workbook xmlns:r="x"><sheets><sheet name="o'line list" state="hidden" r:id="s1"/></sheets></workbook>)";
    const ReadSheet read = read_first(zipped(parts));
    REQUIRE(read.report.diagnostics().size() == 2);
    CHECK(to_string(read.report.diagnostics()[0].where) == "made.xlsx:'o''line list'!A1");
    CHECK(to_string(read.report.diagnostics()[1].where) == "made.xlsx:'o''line list'");
    CHECK(read.report.diagnostics()[1].found == "a hidden sheet, read like the others");
    CHECK(read.report.warnings() == 1);
}

TEST_CASE("parts are found by their relations, absolute and relative, whatever the prefix") {
    Parts parts = workbook_parts("");
    parts.erase("xl/worksheets/sheet1.xml");
    parts["data/one.xml"] =
        "<x:worksheet xmlns:x=\"y\"><x:sheetData><x:row><x:c><x:v>7</x:v></x:c></x:row>"
        "</x:sheetData></x:worksheet>";
    std::string& relations = parts["xl/_rels/workbook.xml.rels"];
    const std::string target = "worksheets/sheet1.xml";
    for (const std::string to : {"../data/one.xml", "/data/one.xml"}) {
        CAPTURE(to);
        Parts moved = parts;
        std::string& text = moved["xl/_rels/workbook.xml.rels"];
        text.replace(relations.find(target), target.size(), to);
        CHECK(read_first(zipped(moved)).cells == Cells{"A1=7"});
    }
}

TEST_CASE("a workbook without styles and shared texts is whole") {
    Parts parts =
        workbook_parts(R"(<row><c><v>5</v></c><c t="inlineStr"><is><t>x</t></is></c></row>)");
    parts.erase("xl/styles.xml");
    parts.erase("xl/sharedStrings.xml");
    std::string& relations = parts["xl/_rels/workbook.xml.rels"];
    relations.erase(relations.find("<Relationship Id=\"s2\""));
    relations += "</Relationships>";
    CHECK(read_first(zipped(parts)).cells == Cells{"A1=5", "B1=x"});
}

}  // namespace
}  // namespace lagline
