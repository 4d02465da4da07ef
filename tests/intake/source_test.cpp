// What a file must be before anything in it is read.
#include <doctest/doctest.h>

#include <filesystem>

#include "intake/file_bytes.h"
#include "intake/plant_yaml.h"
#include "intake/source_file.h"
#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

std::string with_zeros(std::string_view text) {
    std::string wide;
    for (const char c : text) {
        wide += c;
        wide += '\0';
    }
    return wide;
}

TEST_CASE("a file that is no UTF-8 text is one problem with its cause") {
    struct Case {
        std::string text, problem, found;
    };
    const std::string good = segments();
    const std::vector<Case> cases{
        {"", "empty-file segments.csv\n", "an empty file"},
        {" \n\n", "empty-file segments.csv\n", "an empty file"},
        {"\xEF\xBB\xBF", "empty-file segments.csv\n", "an empty file"},
        {",,,\n,,\n", "empty-file segments.csv\n", "nothing but blanks and commas"},
        {std::string{needed_headings} + "\n", "empty-file segments.csv\n", "a heading and no rows"},
        {"\xFF\xFE" + with_zeros(good), "not-utf8 segments.csv\n", "a file in UTF-16"},
        {"\xFE\xFF" + with_zeros(good), "not-utf8 segments.csv\n", "a file in UTF-16"},
        {with_zeros(good), "not-utf8 segments.csv:1:2\n", "a zero byte, which no text has"},
        {std::string{needed_headings} + "\nS-1,L\xE9,U1\n", "not-utf8 segments.csv:2:6\n",
         "byte 0xE9, which is not UTF-8 here"},
        {"PK\x03\x04 and so on", "not-utf8 segments.csv\n",
         "a workbook or archive under the name of a text file"},
        {"segment,line\rS-1,L-1\rS-2,L-1\r", "csv-field-count segments.csv:1:1\n",
         "lines that end in CR alone"}};
    for (const Case& each : cases) {
        CAPTURE(each.found);
        const auto loaded = load({{"segments.csv", each.text}});
        CHECK(summary(loaded.report) == each.problem);
        CHECK(only(loaded).found == each.found);
        CHECK_FALSE(loaded.plant);
    }
}

TEST_CASE("a byte-order mark and CRLF change nothing") {
    std::string text = "\xEF\xBB\xBF" + segments();
    for (auto at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 2)) {
        text.replace(at, 1, "\r\n");
    }
    const auto loaded = load({{"segments.csv", text}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.rows() == 2);
    CHECK(loaded.plant->segments.texts(SegmentField::segment)[1] == "S-2");
}

TEST_CASE("folders and files that are not there, or are something else") {
    const TempFolder folder;
    const LoadOptions options{make_date(2025, 1, 1), make_date(2025, 1, 1), {}};
    auto loaded = load_plant(folder.path() / "none", published_rules(), options);
    CHECK(summary(loaded.report) == "missing-file none plant folder\n");
    folder.write("file", "x");
    loaded = load_plant(folder.path() / "file", published_rules(), options);
    CHECK(summary(loaded.report) == "not-a-file file plant folder\n");
    loaded = load_plant(folder.path(), published_rules(), options);
    CHECK(summary(loaded.report) == "missing-file plant.yaml\nmissing-file segments.csv\n");
    for (const auto* name : {"plant.yaml", "segments.csv", "inspections.csv", "columns.yaml"}) {
        std::filesystem::create_directory(folder.path() / name);
    }
    loaded = load_plant(folder.path(), published_rules(), options);
    loaded.report.sort();
    CHECK(summary(loaded.report) ==
          "not-a-file columns.yaml\nnot-a-file inspections.csv\n"
          "not-a-file plant.yaml\nnot-a-file segments.csv\n");
}

TEST_CASE("a link to nothing is not taken for a file that was left out") {
    const TempFolder folder;
    folder.write("plant.yaml", "name: x\ncurrency: USD\n");
    folder.write("segments.csv", segments());
    std::filesystem::create_symlink("nowhere", folder.path() / "inspections.csv");
    const LoadOptions options{make_date(2025, 1, 1), make_date(2025, 1, 1), {}};
    const auto loaded = load_plant(folder.path(), published_rules(), options);
    CHECK(summary(loaded.report) == "missing-file inspections.csv\n");
}

TEST_CASE("PlaceFinder gives the place of place_at in any order of asking") {
    Report report;
    const auto source = source_from_text(
        "ab\n\xC3\xA9"
        "cd\n\nlast \xE2\x82\xAC end",
        "t", report);
    REQUIRE(source);
    PlaceFinder places{*source};
    for (const std::size_t offset : {0UL, 1UL, 5UL, 6UL, 2UL, 3UL, 9UL, 8UL, 18UL, 400UL, 0UL}) {
        CAPTURE(offset);
        CHECK(places.at(offset) == place_at(*source, offset));
    }
    places.start(8, 3);
    CHECK(places.at(10) == place_at(*source, 10));
}

TEST_CASE("a file that says it is larger than any memory is one message with its name") {
    const TempFolder folder;
    const auto path = folder.write("segments.csv", "segment\n");
    std::filesystem::resize_file(path, std::uintmax_t{1} << 43U);  // sparse
    Report report;
    CHECK_FALSE(read_bytes(path, "segments.csv", report));
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics()[0].problem == Problem::unreadable_file);
    CHECK(report.diagnostics()[0].where.file == "segments.csv");
}

TEST_CASE("a plant.yaml of gigabytes is refused before it is read") {
    const TempFolder folder;
    const auto path = folder.write("plant.yaml", "name: x\n");
    std::filesystem::resize_file(path, std::uintmax_t{1} << 43U);  // sparse
    Report report;
    CHECK(read_plant_yaml(path, report).description.name.empty());
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics()[0].expected == "at most 16 MB");
}

}  // namespace
}  // namespace lagline
