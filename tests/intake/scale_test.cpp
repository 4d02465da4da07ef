// Bounds: time that grows with the bytes, memory that does not grow with the problems, and results
// that do not depend on how the work is cut up.
#include <doctest/doctest.h>

#include <algorithm>

#include "plant_folder.h"
#include "support/cpu_seconds.h"

namespace lagline {
namespace {

// Generous: each of these took minutes, or hours, with a step that goes through a line once for
// each finding in it.  Sanitizers stay below, and so does a busy machine, since it is processor
// time.
constexpr double most_seconds = 20.0;

struct Timed {
    LoadedPlant loaded;
    double seconds;
};

Timed timed(const Files& files, const LoadChoice& choice = {}) {
    const double start = cpu_seconds();
    LoadedPlant loaded = load(files, choice);
    return {std::move(loaded), cpu_seconds() - start};
}

std::string repeated(std::string_view text, std::size_t times) {
    std::string all;
    all.reserve(text.size() * times);
    for (std::size_t i = 0; i < times; ++i) all += text;
    return all;
}

constexpr std::size_t megabyte = 1U << 20U;

TEST_CASE("a cell of 1 MB is read like any other") {
    const std::string long_text(megabyte, 'x');
    const auto [loaded, seconds] = timed({{"segments.csv", segments("drawing", long_text)}});
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.texts(SegmentField::drawing)[1] == long_text);
    CHECK(seconds < most_seconds);
}

TEST_CASE("1 MB in the place of a number is one short message") {
    const auto [loaded, seconds] =
        timed({{"segments.csv", segments("length [m]", std::string(megabyte, '7'))}});
    CHECK(loaded.report.errors() == 2);
    for (const Diagnostic& each : loaded.report.diagnostics()) {
        CHECK(each.found.size() < 400);
        CHECK(each.excerpt.line.size() < 400);
    }
    CHECK(seconds < most_seconds);
}

TEST_CASE("lines of 1 MB made of what costs most") {
    const std::string head = std::string{needed_headings} + "\n";
    struct Case {
        std::string what, row;
    };
    for (const Case& each : {Case{"quotes", repeated("\"", megabyte)},
                             Case{"an odd number of quotes", repeated("\"", megabyte + 1)},
                             Case{"quoted fields", repeated("\"\",", megabyte / 3)},
                             Case{"stray quotes", repeated("a\"b,", megabyte / 4)},
                             Case{"text behind quotes", repeated("\"a\"b,", megabyte / 5)},
                             Case{"commas", repeated(",", megabyte) + "x"}}) {
        CAPTURE(each.what);
        const auto [loaded, seconds] = timed({{"segments.csv", head + each.row + "\n"}});
        CHECK_FALSE(loaded.report.ok());
        CHECK(loaded.report.diagnostics().size() <= Report::most_kept);
        CHECK(seconds < most_seconds);
    }
}

TEST_CASE("many columns: 5 000 of the site's own, and 200 000 of one name") {
    std::string headings;
    for (int i = 0; i < 5000; ++i) headings += "own column " + std::to_string(i) + ",";
    headings.pop_back();
    const auto wide =
        timed({{"segments.csv", segments(headings, repeated("cell,", 4999) + "last")}});
    REQUIRE(wide.loaded.plant);
    CHECK(wide.loaded.plant->segments.site_columns.size() == 5000);
    CHECK(wide.loaded.plant->segments.site_columns[4999].texts[1] == "last");
    CHECK(wide.seconds < most_seconds);

    for (const std::string name : {"zone", "driver"}) {
        CAPTURE(name);
        const auto doubled = timed({{"segments.csv", std::string{needed_headings} +
                                                         repeated("," + name, 200'000) + "\n"}});
        CHECK(doubled.loaded.report.errors() == 199'999 + 1);  // and no rows
        CHECK(doubled.loaded.report.diagnostics().size() == Report::most_kept);
        CHECK(doubled.seconds < most_seconds);
    }
}

TEST_CASE("many columns and many short rows do not multiply") {
    std::string headings;
    for (int i = 0; i < 5000; ++i) headings += ",own column " + std::to_string(i);
    const auto [loaded, seconds] = timed(
        {{"segments.csv", std::string{needed_headings} + headings + repeated("\nx", 200'000)}});
    CHECK(loaded.report.errors() == 200'000 + 199'999);  // too short, and all of one name
    CHECK(seconds < most_seconds);
}

TEST_CASE("10 050 bad cells: all counted, 10 000 kept, the first ones") {
    std::string csv = std::string{needed_headings} + ",length [m]\n";
    for (int i = 0; i < 10'050; ++i) {
        csv += segment_row("S-" + std::to_string(i)) + ",bad\n";
    }
    const auto [loaded, seconds] = timed({{"segments.csv", csv}});
    CHECK(loaded.report.errors() == 10'050);
    CHECK(loaded.report.diagnostics().size() == Report::most_kept);
    CHECK(loaded.report.diagnostics().back().where.line == 10'001);
    REQUIRE(loaded.report.dropped().size() == 1);
    CHECK(loaded.report.dropped()[0].count == 50);
    CHECK(loaded.report.dropped()[0].problem == Problem::not_a_number);
    CHECK(seconds < most_seconds);
    const std::string text = to_text(loaded.report);
    CHECK(holds(text, "... and 10030 more of [not-a-number]"));
    CHECK(text.size() < 20'000);
}

TEST_CASE("many unknown segments and many overrides of one plant") {
    std::string csv = std::string{needed_headings} + "\n";
    std::string inspections = "segment,date,technique,coverage [%]\n";
    std::string overrides = "segment,quantity,value,reason,who,when\n";
    for (int i = 0; i < 30'000; ++i) {
        csv += segment_row("S-" + std::to_string(i)) + "\n";
        inspections += "Q-" + std::to_string(i) + ",2020-01-01,strip_and_measure,50\n";
        overrides += "S-" + std::to_string(i) + ",length,7 m,why,who,2020-01-01\n";
    }
    const auto [loaded, seconds] = timed(
        {{"segments.csv", csv}, {"inspections.csv", inspections}, {"overrides.csv", overrides}});
    CHECK(loaded.report.errors() == 30'000);
    CHECK(seconds < most_seconds);
}

// Rows with every kind of finding, some of which are told once for a column.
std::string mixed_rows() {
    std::string csv = std::string{needed_headings} + ",length,drawing,driver,own\n";
    for (int i = 0; i < 3000; ++i) {
        csv += segment_row("S-" + std::to_string(i % 2500)) + ",";
        csv += i % 3 == 0 ? "7" : i % 3 == 1 ? "7 m" : "x";
        csv += i % 5 == 0 ? ",\"a \"\"b\"\"\nc\"" : ",d";
        csv += i % 7 == 0 ? ",sever" : ",severe";
        csv += i % 11 == 0 ? ",o,o,o\n" : ",o\n";
    }
    return csv;
}

TEST_CASE("the report is the same for any number of threads and any size of block") {
    const Files files{{"segments.csv", mixed_rows()}};
    const auto told = [&](unsigned threads, std::size_t block_rows) {
        const auto loaded = load(files, {.block_rows = block_rows, .threads = threads});
        std::string text = summary(loaded.report) + std::to_string(loaded.report.errors());
        for (const Diagnostic& each : loaded.report.diagnostics()) text += each.found + each.mend;
        return text;
    };
    const std::string expected = told(1, 1024);
    CHECK(holds(expected, "missing-unit segments.csv:1:121 length"));
    for (const unsigned threads : {1U, 2U}) {
        for (const std::size_t block_rows : {1U, 7U, 1024U}) {
            CAPTURE(threads);
            CAPTURE(block_rows);
            CHECK(told(threads, block_rows) == expected);
        }
    }
}

TEST_CASE("the plant is the same for any number of threads and any size of block") {
    std::string csv = std::string{needed_headings} + ",length [m],drawing,own\n";
    for (int i = 0; i < 3000; ++i) {
        csv += segment_row("S-" + std::to_string(i)) + "," + std::to_string(i % 90 + 1) +
               ",\"a \"\"" + std::to_string(i) + "\"\"\",z" + std::to_string(i % 4) + "\n";
    }
    const auto plant = [&](unsigned threads, std::size_t block_rows) {
        auto loaded = load({{"segments.csv", csv}}, {.block_rows = block_rows, .threads = threads});
        REQUIRE(loaded.plant);
        return std::move(*loaded.plant);
    };
    const Plant expected = plant(1, 1024);
    for (const unsigned threads : {1U, 2U}) {
        for (const std::size_t block_rows : {1U, 7U, 1024U}) {
            const Plant got = plant(threads, block_rows);
            for (std::size_t f = 0; f < segment_fields().size(); ++f) {
                const SheetColumn& a = got.segments.Sheet::column(f);
                const SheetColumn& b = expected.segments.Sheet::column(f);
                CHECK((a.numbers == b.numbers && a.codes == b.codes && a.days == b.days &&
                       a.texts == b.texts && a.states == b.states));
            }
            CHECK(got.segments.site_columns[0].texts == expected.segments.site_columns[0].texts);
        }
    }
}

}  // namespace
}  // namespace lagline
