// Large files are read by several threads, a megabyte at a time: what comes of it must be what
// reading from the first byte to the last gives.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "intake/csv.h"
#include "intake/source_file.h"
#include "support/rounds.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

constexpr std::size_t large = 6U << 20U;

struct Expected {
    std::vector<std::size_t> offsets;
    std::vector<std::size_t> lines;
};

// RFC 4180 with a state for each byte.  Only for texts whose quotes all open or close a field.
Expected records_one_by_one(std::string_view text) {
    Expected expected;
    bool quoted = false;
    bool content = false;
    std::size_t begin = 0;
    std::size_t line = 1;
    std::size_t begin_line = 1;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '"') quoted = !quoted;
        if (c != '"' && c != ',' && c != '\n') content = true;
        if (c != '\n') continue;
        ++line;
        if (quoted) continue;
        if (content) {
            expected.offsets.push_back(begin);
            expected.lines.push_back(begin_line);
        }
        begin = i + 1;
        begin_line = line;
        content = false;
    }
    return expected;
}

// Rows with cells of letters, some of them in quotes over commas, doubled quotes and line breaks.
std::string made_table(std::mt19937_64& random, unsigned quoted_in_a_thousand) {
    std::string text;
    while (text.size() < large) {
        if (random() % 50 == 0) {
            text += ",,\n";  // without content
            continue;
        }
        for (unsigned cell = 0; cell < 4; ++cell) {
            if (cell > 0) text += ',';
            // The first is never empty: a record without content would be left out.
            std::string content((cell == 0 ? 1 : 0) + random() % 30,
                                static_cast<char>('a' + random() % 26));
            if (random() % 1000 >= quoted_in_a_thousand) {
                text += content;
                continue;
            }
            for (const std::string_view part : {",", "\"\"", "\n", "z"}) {
                if (random() % 2 == 0) content += part;
            }
            text += '"' + content + '"';
        }
        text += '\n';
    }
    return text;
}

TEST_CASE("records of a large text are those found byte by byte") {
    std::mt19937_64 random{17};
    for (const unsigned quoted : {0U, 1U, 300U}) {
        CAPTURE(quoted);
        const std::string text = made_table(random, quoted);
        const Expected expected = records_one_by_one(text);
        for (const unsigned threads : {1U, 3U}) {
            Report report;
            const CsvRecords found =
                find_records(source_of(text, "t"), report, {1024, threads, nullptr});
            CHECK(report.ok());
            REQUIRE(found.offsets.size() == expected.offsets.size());
            CHECK(std::ranges::equal(found.offsets, expected.offsets));
            CHECK(std::ranges::equal(found.lines, expected.lines));
        }
    }
}

TEST_CASE("a quote that is never closed ends a large text at its record, and says where") {
    std::mt19937_64 random{5};
    std::string text = made_table(random, 0);
    const std::size_t at = text.find('\n', large / 2) + 1;
    text.insert(at, "x,\"y,z\n");
    const Expected expected = records_one_by_one(std::string_view{text}.substr(0, at));
    Report report;
    const CsvRecords found = find_records(source_of(text, "t"), report);
    CHECK(found.torn);
    CHECK(std::ranges::equal(found.offsets, expected.offsets));
    REQUIRE(report.errors() == 1);
    const auto line = 1 + std::ranges::count(std::string_view{text}.substr(0, at), '\n');
    CHECK(report.diagnostics()[0].where == Place{"t", static_cast<int>(line), 3});
}

TEST_CASE("a record without quotes is split as any record is") {
    std::mt19937_64 random{23};
    const std::string_view letters = "ab ,,-\t0.\r\xC3\xA9\n";
    for (int round = 0; round < rounds(2000); ++round) {
        std::string text(random() % 40, ' ');
        for (char& c : text) c = letters[random() % letters.size()];
        std::vector<CsvCell> plain;
        std::vector<CsvCell> any;
        std::vector<CsvFault> faults;
        CAPTURE(text);
        REQUIRE(split_plain_record(text, 0, plain));
        split_record(text, 0, any, faults);
        REQUIRE(plain.size() == any.size());
        for (std::size_t i = 0; i < any.size(); ++i) {
            CHECK(plain[i].text == any[i].text);
            CHECK(plain[i].offset == any[i].offset);
        }
    }
    std::vector<CsvCell> cells;
    CHECK_FALSE(split_plain_record("a,\"b\",c\n", 0, cells));
    CHECK(split_plain_record("a,b,c\n\"", 0, cells));  // the quote is of the next record
    CHECK(cells.size() == 3);
}

TEST_CASE("a large file has the bytes and the faults of a small one") {
    const TempFolder folder;
    // A code point of three bytes over each end of a megabyte.
    std::string text;
    while (text.size() < large) {
        const std::size_t to_end = (1U << 20U) - text.size() % (1U << 20U);
        text += to_end <= 2 ? "\xE2\x82\xAC\n" : to_end < 12 ? "a" : "abcdefghi\n";
    }
    const WorkPlan plan{1024, 3, nullptr};
    {
        Report report;
        const auto source = read_source(folder.write("t", text), "t", report, plan);
        REQUIRE(source);
        CHECK(source->bytes == text);
    }
    for (const std::size_t at : {std::size_t{(1U << 20U) + 1}, std::size_t{3U << 20U}, large - 1}) {
        CAPTURE(at);
        for (const char bad : {'\0', '\xE9'}) {
            std::string spoilt = text;
            spoilt[at] = bad;
            Report report;
            CHECK_FALSE(read_source(folder.write("t", spoilt), "t", report, plan));
            Report expected;
            CHECK_FALSE(source_from_text(spoilt, "t", expected));
            REQUIRE(report.errors() == 1);
            CHECK(report.diagnostics()[0].where == expected.diagnostics()[0].where);
            CHECK(report.diagnostics()[0].found == expected.diagnostics()[0].found);
        }
    }
}

TEST_CASE("a line without an end is refused at its start") {
    const TempFolder folder;
    const std::string text = "segment\nS-1\nS-2\n" + std::string(large, 'x') + "\nS-3\n";
    Report report;
    CHECK_FALSE(read_source(folder.write("t", text), "t", report, {1024, 2, nullptr}));
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics()[0].where == Place{"t", 4, 1});
    CHECK(report.diagnostics()[0].found == "a line of 1048576 bytes or more");
}

}  // namespace
}  // namespace lagline
