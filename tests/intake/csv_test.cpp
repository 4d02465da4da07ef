// RFC 4180 (October 2005), section 2, rules 1 to 7, and what spreadsheets make of them.
#include <doctest/doctest.h>

#include <vector>

#include "intake/csv.h"
#include "intake/source_file.h"
#include "plant_folder.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

std::vector<std::vector<std::string>> records(std::string_view text, Report& report) {
    const auto source = source_from_text(std::string{text}, "t.csv", report);
    std::vector<std::vector<std::string>> all;
    if (!source) return all;
    const CsvRecords found = find_records(*source, report);
    for (const auto offset : found.offsets) {
        std::vector<CsvCell> cells;
        std::vector<CsvFault> faults;
        split_record(source->bytes, offset, cells, faults);
        CHECK(faults.empty());
        all.emplace_back();
        for (const CsvCell& cell : cells) {
            all.back().push_back(cell.doubled ? undoubled(cell.text) : std::string{cell.text});
        }
    }
    return all;
}

using Rows = std::vector<std::vector<std::string>>;

void same(std::string_view text, const Rows& expected) {
    CAPTURE(text);
    Report report;
    CHECK(records(text, report) == expected);
    CHECK(report.ok());
}

TEST_CASE("RFC 4180 section 2, its own examples") {
    same("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 1
    same("aaa,bbb,ccc\r\nzzz,yyy,xxx", {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});      // 2
    same("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx",
         {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 5
    same("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx",
         {{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});        // 6
    same("\"aaa\",\"b\"\"bb\",\"ccc\"", {{"aaa", "b\"bb", "ccc"}});  // 7
}

TEST_CASE("line ends, blank lines and empty fields") {
    same("a,b\n1,2\n", {{"a", "b"}, {"1", "2"}});
    same("a,b\n\n  \n,\n1,2\n\n", {{"a", "b"}, {"1", "2"}});
    same("a,b\n\"\",\"\"\n1,2", {{"a", "b"}, {"1", "2"}});
    same("a,b\n,2\n1,\n", {{"a", "b"}, {"", "2"}, {"1", ""}});
    same("a\n\"\"\"\"\n", {{"a"}, {"\""}});
    same(
        "\xEF\xBB\xBF"
        "a,b\n1,2",
        {{"a", "b"}, {"1", "2"}});
    same("a,b\n\" 1 \", 2 ", {{"a", "b"}, {" 1 ", "2"}});
}

TEST_CASE("another reader takes the same cells from quotes in every position") {
    const std::vector<std::string> fields{"x",      "\"\"",     "\"a,b\"",       "\"a\"\"b\"",
                                          "\"\n\"", "\"\"\"\"", "\"\"\"x\"\"\"", "\"x\r\ny\""};
    for (const auto& first : fields) {
        for (const auto& second : fields) {
            const std::string text =
                "h,k,l\n" + first + "," + second + ",z\nq," + second + "," + first + "\n";
            CAPTURE(text);
            Report report;
            CHECK(records(text, report) == csv_records(text));
        }
    }
}

TEST_CASE("quotes where they do not belong are told at the quote") {
    struct Case {
        std::string row, place, found;
    };
    for (const auto& each : {Case{"S\"1,L", "2:2", "a quote inside a field that is not quoted"},
                             Case{"\"S-1\" x,L", "2:6", "text behind a closing quote"}}) {
        CAPTURE(each.row);
        const auto loaded = load({{"segments.csv", std::string{needed_headings} + "\n" + each.row +
                                                       std::string{one_row.substr(7)} + "\n"}});
        CHECK(summary(loaded.report) == "csv-quote segments.csv:" + each.place + "\n");
        CHECK(only(loaded).found == each.found);
    }
}

TEST_CASE("a quote that is never closed is one problem, not one in every row behind it") {
    const auto loaded =
        load({{"segments.csv", std::string{needed_headings} + "\n" + std::string{one_row} +
                                   "\nS-2,\"L-1,U1\nS-3,L-1\nS-4,L-1\n"},
              {"inspections.csv",
               "segment,date,technique,coverage [%]\n"
               "S-4,2020-01-01,strip_and_measure,50\n"}});
    CHECK(summary(loaded.report) == "csv-quote segments.csv:3:5\n");
    CHECK(only(loaded).excerpt.line == "S-2,\"L-1,U1");
    CHECK(only(loaded).excerpt.mark == 4);
}

TEST_CASE("embedded line breaks keep the line numbers of what follows") {
    const auto loaded =
        load({{"segments.csv",
               std::string{needed_headings} + ",drawing\n" + std::string{one_row} +
                   ",\"a\nb\nc\"\n\nS-2,L-1,U1,carbon_steel,4,x,82,mineral_wool,1994,\n"}});
    CHECK(summary(loaded.report) == "not-a-number segments.csv:6:27 nominal_wall\n");
}

TEST_CASE("columns count characters, not bytes") {
    const auto loaded =
        load({{"segments.csv", std::string{needed_headings} +
                                   "\nS-1,L-\xC3\xA9,U1,carbon_steel,4,x,82,mineral_wool,1994\n"}});
    CHECK(summary(loaded.report) == "not-a-number segments.csv:2:27 nominal_wall\n");
}

TEST_CASE("commas behind the last column do no harm; too many or too few fields do") {
    const std::string row{one_row};
    const std::string head{needed_headings};
    CHECK(load({{"segments.csv", head + "\n" + row + ",,,\n"}}).report.ok());
    CHECK(load({{"segments.csv", head + ",,,\n" + row + ",,,\n"}}).report.ok());
    CHECK(load({{"segments.csv", head + ",,\n" + row + "\n"}}).report.ok());
    const auto more = load({{"segments.csv", head + "\n" + row + ",7\n"}});
    CHECK(summary(more.report) == "csv-field-count segments.csv:2:59\n");
    CHECK(only(more).found == "10 fields");
    CHECK(holds(only(more).mend, "write decimals with a point"));
    const auto less = load({{"segments.csv", head + "\nS-1,L-1,U1\n"}});
    CHECK(summary(less.report) == "csv-field-count segments.csv:2:9\n");
    CHECK(only(less).expected == "9 fields, as in the heading");
}

TEST_CASE("a segment whose row is refused is not unknown to the other files") {
    const auto loaded =
        load({{"segments.csv", std::string{needed_headings} + "\nS-1,L-1,U1\n"},
              {"inspections.csv",
               "segment,date,technique,coverage [%]\nS-1,2020-01-01,strip_and_measure,50\n"}});
    CHECK(summary(loaded.report) == "csv-field-count segments.csv:2:9\n");
}

}  // namespace
}  // namespace lagline
