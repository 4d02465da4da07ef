// Rankings of parts, put together, are the ranking of one process: the same bytes.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

#include "cut_plant.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

std::size_t equal_risks(const std::string& ranking) {
    const auto records = csv_records(ranking);
    const auto at = std::ranges::find(records.front(), "risk") - records.front().begin();
    std::size_t equal = 0;
    for (std::size_t i = 2; i < records.size(); ++i) {
        if (records[i][static_cast<std::size_t>(at)] ==
            records[i - 1][static_cast<std::size_t>(at)])
            ++equal;
    }
    return equal;
}

TEST_CASE("parts of any size make the ranking of one process, to the byte") {
    const CutPlant plant{60};
    REQUIRE(plant.segments().rows.size() == 100);
    for (const auto* rules : {"published", "extended"}) {
        const Arguments by_rules{"--rules", rules};
        const std::string whole = plant.whole(by_rules);
        // Ties are what an order can get wrong.
        REQUIRE(equal_risks(whole) >= 20);
        for (const std::size_t rows : {1U, 7U, 33U, 50U, 67U, 100U}) {
            const Ran merged = merge(plant.rank_parts(rows, by_rules));
            CAPTURE(rules);
            CAPTURE(rows);
            INFO(merged.err);
            CHECK(merged.code == 0);
            CHECK(merged.err.empty());
            const bool same = merged.out == whole;
            CHECK(same);
        }
    }
}

TEST_CASE("the whole sample plant in three parts, at a date that was asked for") {
    const CutPlant plant{600};
    const Arguments at{"--at", "2031-05-06"};
    const Ran merged = merge(plant.rank_parts(300, at));
    CHECK(merged.code == 0);
    const bool same = merged.out == plant.whole(at);
    CHECK(same);
}

TEST_CASE("a part without rows changes nothing") {
    const CutPlant plant{20};
    for (const auto* rules : {"published", "extended"}) {
        CAPTURE(rules);
        const Arguments by_rules{"--rules", rules};
        auto files = plant.rank_parts(7, by_rules);
        const Ran none = plant.rank_part(0, 0, by_rules);
        CHECK(none.code == 0);
        files.insert(files.begin() + 1, plant.folder().write("none.csv", none.out).string());
        const Ran merged = merge(files);
        INFO(merged.err);
        const bool same = merged.out == plant.whole(by_rules);
        CHECK(same);
        const bool nothing = merge({files[1]}).out == none.out;
        CHECK(nothing);
    }
}

TEST_CASE("merged rankings merge again; --top is that of the whole; --out writes a file") {
    const CutPlant plant{40};
    const auto files = plant.rank_parts(17);
    const auto half = static_cast<std::ptrdiff_t>(files.size() / 2);
    const std::string left = (plant.folder().path() / "left.csv").string();
    const std::string right = (plant.folder().path() / "right.csv").string();
    CHECK(merge({files.begin(), files.begin() + half}, {"--out", left}).code == 0);
    CHECK(merge({files.begin() + half, files.end()}, {"--out", right}).out.empty());
    const bool same = merge({left, right}).out == plant.whole();
    CHECK(same);
    for (const auto* top : {"0", "1", "5", "1000"}) {
        CAPTURE(top);
        const bool cut = merge({right, left}, {"--top", top}).out == plant.whole({"--top", top});
        CHECK(cut);
    }
}

TEST_CASE("several rankings in one stream, and line ends of another kind") {
    const CutPlant plant{30};
    const std::string whole = plant.whole();
    std::string stream;
    for (const std::string& file : plant.rank_parts(25)) stream += file_text(file);
    RunChoice piped;
    piped.in_from = plant.folder().write("stream", stream).string();
    CHECK(merge({*piped.in_from}).out == whole);
    CHECK(merge({"-"}, {}, piped).out == whole);
    // As a program of Windows leaves them; and the last line without an end.
    std::string returns;
    for (const char c : stream) returns += c == '\n' ? std::string{"\r\n"} : std::string{c};
    returns.resize(returns.size() - 2);
    CHECK(merge({plant.folder().write("returns", returns).string()}).out == whole);
    // Empty lines, which some engines put between the outputs of commands.
    stream.insert(stream.find('\n') + 1, "\n");
    CHECK(merge({plant.folder().write("stream", stream + "\n").string()}).out == whole);
}

}  // namespace
}  // namespace lagline
