#include <doctest/doctest.h>

#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "diagnostics/diagnostic.h"

using namespace lagline;

namespace {

Diagnostic at(std::string file, int line, Problem problem = Problem::not_a_number,
              Severity severity = Severity::error) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where = {std::move(file), line, 1};
    return diagnostic;
}

}  // namespace

TEST_CASE("every problem has a code of its own, in lower case with hyphens") {
    std::set<std::string_view> codes;
    const auto last = static_cast<int>(Problem::unknown_run);
    for (int i = 0; i <= last; ++i) {
        const auto code = code_of(static_cast<Problem>(i));
        CAPTURE(code);
        CHECK(code.find_first_not_of("abcdefghijklmnopqrstuvwxyz-8") == std::string_view::npos);
        CHECK(code != "unclassified");
        CHECK(codes.insert(code).second);
    }
    CHECK(code_of(Problem::unit_mismatch) == "unit-mismatch");
    CHECK(code_of(Problem::not_utf8) == "not-utf8");
}

TEST_CASE("a place leaves out what is 0") {
    CHECK(to_string(Place{"segments.csv", 41, 16}) == "segments.csv:41:16");
    CHECK(to_string(Place{"segments.csv", 41, 0}) == "segments.csv:41");
    CHECK(to_string(Place{"segments.csv", 0, 0}) == "segments.csv");
    CHECK(to_string(Place{"segments.csv", 0, 7}) == "segments.csv");
    CHECK(to_string(Place{"plant.xlsx", 41, 6, "segments"}) == "plant.xlsx:segments!F41");
    CHECK(to_string(Place{"plant.xlsx", 41, 0, "segments"}) == "plant.xlsx:segments!41");
    CHECK(to_string(Place{"plant.xlsx", 0, 0, "segments"}) == "plant.xlsx:segments");
    CHECK(to_string(Place{"p.xlsx", 1, 1, "o'line list"}) == "p.xlsx:'o''line list'!A1");
    CHECK(cell_name(Place{"segments.csv", 41, 6}).empty());
    CHECK(line_text(Place{"segments.csv", 41, 6}) == "line 41");
    CHECK(line_text(Place{"plant.xlsx", 41, 6, "segments"}) == "row 41");
    CHECK(column_letters(26) == "Z");
    CHECK(column_letters(27) == "AA");
    CHECK(column_letters(702) == "ZZ");
    CHECK(column_letters(16'384) == "XFD");
    // The rows of a sheet stand together.
    CHECK(Place{"plant.xlsx", 9, 1, "a"} < Place{"plant.xlsx", 2, 1, "b"});
}

TEST_CASE("a report keeps the first 10 000 and counts the rest by file and kind") {
    Report report;
    const int extra = 2'500;
    for (int i = 0; i < static_cast<int>(Report::most_kept) + extra; ++i) {
        CHECK(report.full() == (i >= static_cast<int>(Report::most_kept)));
        report.add(at(i % 2 == 0 ? "a.csv" : "b.csv", i + 1));
    }
    report.add(at("a.csv", 1, Problem::out_of_range, Severity::warning));
    CHECK(report.diagnostics().size() == Report::most_kept);
    CHECK(report.errors() == Report::most_kept + extra);
    CHECK(report.warnings() == 1);
    CHECK_FALSE(report.ok());
    const auto dropped = report.dropped();
    REQUIRE(dropped.size() == 3);
    CHECK(dropped[0].file == "a.csv");
    CHECK(dropped[0].problem == Problem::not_a_number);
    CHECK(dropped[0].count == extra / 2);
    CHECK(dropped[1].problem == Problem::out_of_range);
    CHECK(dropped[1].count == 1);
    CHECK(dropped[2].file == "b.csv");
    CHECK(dropped[2].count == extra / 2);
}

TEST_CASE("merging loses no count, whichever side overflows") {
    Report a;
    Report b;
    for (int i = 0; i < 7'000; ++i) a.add(at("a.csv", i));
    for (int i = 0; i < 12'000; ++i) b.add(at("b.csv", i, Problem::not_a_date, Severity::warning));
    a.merge(b);
    CHECK(a.errors() == 7'000);
    CHECK(a.warnings() == 12'000);
    CHECK(a.diagnostics().size() == Report::most_kept);
    REQUIRE(a.dropped().size() == 1);
    CHECK(a.dropped()[0].count == 9'000);
    CHECK(a.diagnostics()[6'999].where.file == "a.csv");
    CHECK(a.diagnostics()[7'000].where.file == "b.csv");
}

TEST_CASE("warnings alone leave a report ok") {
    Report report;
    CHECK(report.ok());
    report.add(at("a.csv", 1, Problem::missing_value, Severity::warning));
    CHECK(report.ok());
}

TEST_CASE("sort goes by file, line and column and keeps the order of equals") {
    Report report;
    report.add(at("b.csv", 1));
    report.add(at("a.csv", 10, Problem::not_a_date));
    report.add(at("a.csv", 2));
    report.add(at("a.csv", 10, Problem::missing_value));
    report.sort();
    const auto& sorted = report.diagnostics();
    CHECK(sorted[0].where == Place{"a.csv", 2, 1});
    CHECK(sorted[1].problem == Problem::not_a_date);
    CHECK(sorted[2].problem == Problem::missing_value);
    CHECK(sorted[3].where.file == "b.csv");
}
