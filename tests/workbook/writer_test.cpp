// Workbooks that are written, read again by our own reader; openpyxl_test.py reads them with
// another.
#include <doctest/doctest.h>

#include <cstdlib>
#include <functional>
#include <limits>

#include "report/xlsx/xlsx_writer.h"
#include "zipped.h"

namespace lagline {
namespace {

using Cells = std::vector<std::string>;
using WriteRow = std::function<void(TableCells&)>;

/// A table of one row, or of many like it.
class MadeTable : public OutputTable {
  public:
    MadeTable(std::vector<OutputColumn> columns, WriteRow row, std::size_t rows = 1)
        : columns_(std::move(columns)), row_(std::move(row)), rows_(rows) {}
    [[nodiscard]] std::vector<OutputColumn> columns() const override { return columns_; }
    [[nodiscard]] std::size_t rows() const override { return rows_; }
    void write_row(std::size_t /*row*/, TableCells& cells) const override { row_(cells); }

  private:
    std::vector<OutputColumn> columns_;
    WriteRow row_;
    std::size_t rows_;
};

MadeWorkbook made_of(const MadeTable& table) {
    return make_workbook({{"pipes", &table}},
                         {.title = "t", .subject = "s", .made = make_date(2026, 11, 25)});
}

TEST_CASE("what is written is read back: texts, numbers, dates, empty cells") {
    const MadeTable table{{{"a"},
                           {"b", CellKind::number},
                           {"c", CellKind::date},
                           {"d", CellKind::count},
                           {"e"},
                           {"f", CellKind::money},
                           {"g", CellKind::date}},
                          [](TableCells& cells) {
                              cells.text("Stra\u00dfe <&> \"x\"\ny");
                              cells.number(-0.00117382);
                              cells.date(make_date(1900, 3, 1));
                              cells.count(100'000);
                              cells.empty();
                              cells.number(1e15);
                              cells.date(make_date(1899, 12, 31));
                          }};
    const ReadSheet read = read_first(made_of(table).bytes);
    INFO(to_text(read.report));
    CHECK(read.report.diagnostics().empty());
    CHECK(read.cells == Cells{"A1=a", "B1=b", "C1=c", "D1=d", "E1=e", "F1=f", "G1=g",
                              "A2=Stra\u00dfe <&> \"x\"\ny", "B2=-0.00117382", "C2=1900-03-01",
                              "D2=100000", "F2=1000000000000000", "G2=1899-12-31"});
}

TEST_CASE("a text that starts like a formula stays a text, letter by letter") {
    for (const std::string_view formula : {"=1+1", "+cmd", "-1+1", "@SUM(A1)", "\tx", "\rx", "=",
                                           "=HYPERLINK(\"x\")", "http://x.example/", "_x000D_"}) {
        CAPTURE(formula);
        const MadeTable table{{{"a"}}, [&](TableCells& cells) { cells.text(formula); }};
        const MadeWorkbook made = made_of(table);
        CHECK(made.problem.empty());
        // A cell with a formula would be read as its value.
        CHECK(read_first(made.bytes).cells == Cells{"A1=a", "A2=" + std::string{formula}});
    }
}

TEST_CASE("the same table gives the same bytes, in every time zone") {
    const MadeTable table{{{"a"}}, [](TableCells& cells) { cells.text("x"); }};
    const std::string first = made_of(table).bytes;
    CHECK_FALSE(first.empty());
    ::setenv("TZ", "Pacific/Auckland", 1);
    ::tzset();
    const bool same = made_of(table).bytes == first;
    ::unsetenv("TZ");
    ::tzset();
    CHECK(same);
}

TEST_CASE("what a sheet cannot hold is refused, not cut") {
    const MadeTable wide{{{"a"}}, [](TableCells& cells) { cells.text(std::string(32'768, 'x')); }};
    CHECK(made_of(wide).bytes.empty());
    CHECK_FALSE(made_of(wide).problem.empty());
    const MadeTable fits{{{"a"}}, [](TableCells& cells) { cells.text(std::string(32'767, 'x')); }};
    CHECK(made_of(fits).problem.empty());
    const MadeTable tall{{{"a"}}, [](TableCells& cells) { cells.text("x"); }, 1'048'576};
    CHECK(made_of(tall).problem.find("1048576 rows for the sheet pipes, which holds 1048575") == 0);
}

TEST_CASE("what is no number is written as a text") {
    const MadeTable table{{{"a", CellKind::number}}, [](TableCells& cells) {
                              cells.number(std::numeric_limits<double>::infinity());
                          }};
    CHECK(read_first(made_of(table).bytes).cells == Cells{"A1=a", "A2=inf"});
}

TEST_CASE("formats by kind and unit") {
    CHECK(number_format_of({"a", CellKind::text}).empty());
    CHECK(number_format_of({"a", CellKind::count}) == "0");
    CHECK(number_format_of({"a", CellKind::money}) == "#,##0.00");
    CHECK(number_format_of({"a", CellKind::date}) == "yyyy-mm-dd");
    CHECK(number_format_of({"a", CellKind::number, "mm"}) == "0.00");
    CHECK(number_format_of({"a", CellKind::number, "mm/y"}) == "0.0000");
    CHECK(number_format_of({"a", CellKind::number}) == "General");
}

}  // namespace
}  // namespace lagline
