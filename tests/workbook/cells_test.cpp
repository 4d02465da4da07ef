// What the cells of a sheet come to, by ISO/IEC 29500-1 (ECMA-376, Part 1), sections 18.3.1.4 (c),
// 18.4 (shared strings), 18.17.4 (dates) and 18.18.11 (cell types).
#include <doctest/doctest.h>

#include "zipped.h"

namespace lagline {
namespace {

using Cells = std::vector<std::string>;

// The text of a row of cells without references, each "text" or empty.
Cells row_of(const std::string& cells) {
    const ReadSheet read = read_cells("<row>" + cells + "</row>");
    INFO(to_text(read.report));
    CHECK(read.report.ok());
    return read.cells;
}

TEST_CASE("numbers: the shortest text that reads back as the same double, without an exponent") {
    CHECK(row_of("<c><v>9.5299999999999994</v></c><c><v>100000</v></c><c><v>1E+2</v></c>"
                 "<c><v>1.5000000000000001E-5</v></c><c><v>-7</v></c><c><v>1e22</v></c>") ==
          Cells{"A1=9.53", "B1=100000", "C1=100", "D1=0.000015", "E1=-7",
                "F1=10000000000000000000000"});
}

TEST_CASE("texts: shared, of the cell itself, of a formula; runs joined, reading aids left out") {
    CHECK(row_of(R"(<c t="s"><v>0</v></c><c t="s"><v>1</v></c><c t="s"><v>2</v></c>)"
                 R"(<c t="inlineStr"><is><t>own</t></is></c>)"
                 R"(<c t="inlineStr"><is><r><t>o</t></r><r><t>ne</t></r></is></c>)"
                 R"(<c t="str"><f>A1&amp;B1</f><v>a&lt;b</v></c>)") ==
          Cells{"A1=first", "B1=NPS 6", "C1=a\rb_x0041_", "D1=own", "E1=one", "F1=a<b"});
}

TEST_CASE("booleans are yes and no; a formula is its stored value; empty cells are none") {
    CHECK(row_of(R"(<c t="b"><v>1</v></c><c t="b"><v>0</v></c><c><f>1+1</f><v>2</v></c>)"
                 R"(<c s="1"/><c t="str"><f>""</f><v></v></c><c t="s"/><c><v>3</v></c>)") ==
          Cells{"A1=yes", "B1=no", "C1=2", "G1=3"});
}

TEST_CASE("percentages keep their sign, to the digit") {
    CHECK(row_of(R"(<c s="2"><v>0.5</v></c><c s="2"><v>7.0000000000000007E-2</v></c>)"
                 R"(<c s="2"><v>0.285</v></c><c s="2"><v>12</v></c>)") ==
          Cells{"A1=50 %", "B1=7 %", "C1=28.5 %", "D1=1200 %"});
}

TEST_CASE("dates from 1900, with the leap day that never was (18.17.4.1)") {
    CHECK(
        row_of(R"(<c s="1"><v>1</v></c><c s="1"><v>59</v></c><c s="1"><v>61</v></c>)"
               R"(<c s="1"><v>41820</v></c><c s="3"><v>41820.5</v></c><c s="1"><v>2958465</v></c>)"
               R"(<c t="d"><v>2014-06-30</v></c><c t="d"><v>2014-06-30T00:00:00</v></c>)") ==
        Cells{"A1=1900-01-01", "B1=1900-02-28", "C1=1900-03-01", "D1=2014-06-30",
              "E1=2014-06-30 12:00:00", "F1=9999-12-31", "G1=2014-06-30", "H1=2014-06-30"});
}

TEST_CASE("dates from 1904") {
    Parts parts = workbook_parts(R"(<row><c s="1"><v>0</v></c><c s="1"><v>40358</v></c></row>)");
    const std::string plain = "<sheets>";
    std::string& workbook = parts["xl/workbook.xml"];
    workbook.insert(workbook.find(plain), R"(<workbookPr date1904="1"/>)");
    const ReadSheet read = read_first(zipped(parts));
    CHECK(read.cells == Cells{"A1=1904-01-01", "B1=2014-06-30"});
}

TEST_CASE("hours that run on are not taken for a number of days") {
    CHECK(row_of(R"(<c s="4"><v>1.5</v></c>)") == Cells{"A1=36:00:00"});
}

TEST_CASE("a cell that has no text is told with its place, and the rest is read") {
    struct Row {
        std::string cell;
        std::string told;
    };
    for (const Row& row :
         {Row{R"(<c r="B2" t="e"><v>#N/A</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the error value #N/A"},
          Row{R"(<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the error value #DIV/0!"},
          Row{R"(<c r="B2"><f>A1*2</f><v></v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: a formula without a stored value"},
          Row{R"(<c r="B2"><f>A1*2</f></c>)",
              "unreadable-cell made.xlsx:pipes!B2: a formula without a stored value"},
          Row{R"(<c r="B2" s="1"><v>60</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the day number 60 shown as a date"},
          Row{R"(<c r="B2" s="1"><v>0</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the day number 0 shown as a date"},
          Row{R"(<c r="B2" s="1"><v>-1</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the day number -1 shown as a date"},
          Row{R"(<c r="B2" s="1"><v>2958466</v></c>)",
              "unreadable-cell made.xlsx:pipes!B2: the day number 2958466 shown as a date"},
          Row{R"(<c r="B2" t="s"><v>3</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: shared text 3, which the file does not have"},
          Row{R"(<c r="B2" t="b"><v>2</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: '2' as true or false"},
          Row{R"(<c r="B2"><v>1,5</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: '1,5' as the number of a cell"},
          Row{R"(<c r="B2"><v>1e999</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: '1e999' as the number of a cell"},
          Row{R"(<c r="B2" s="99"><v>1</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: style 99, which the file does not have"},
          Row{R"(<c r="B2" t="z"><v>1</v></c>)",
              "damaged-workbook made.xlsx:pipes!B2: a cell of the unknown type 'z'"}}) {
        CAPTURE(row.cell);
        const ReadSheet read =
            read_cells("<row r=\"2\">" + row.cell + "<c r=\"C2\"><v>5</v></c></row>");
        CHECK(only(read.report) == row.told);
        CHECK(read.cells == Cells{"C2=5"});
        CHECK(read.report.errors() == 1);
    }
}

}  // namespace
}  // namespace lagline
