// rank --stdin: the rows of segments.csv by a pipe, all else from the folder.
#include <doctest/doctest.h>

#include <filesystem>

#include "cut_plant.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

Ran rank_piped(const CutPlant& plant, const std::string& text, const Arguments& more = {}) {
    RunChoice choice;
    choice.in_from = plant.folder().write("piped", text).string();
    Arguments arguments{"rank", plant.path(), "--stdin", "--today", portfolio_day};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, choice);
}

TEST_CASE("all rows by a pipe: the ranking of the folder, which need not have segments.csv") {
    const CutPlant plant{12};
    const std::string whole = plant.whole();
    const std::string text = file_text(plant.path() + "/segments.csv");
    const Ran ran = rank_piped(plant, text, {"--format", "csv"});
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out == whole);
    plant.folder().write("segments.csv", "not,looked,into\n");
    CHECK(rank_piped(plant, text, {"--format", "csv"}).out == whole);
    fs::remove(plant.folder().path() / "segments.csv");
    CHECK(rank_piped(plant, text, {"--format", "csv"}).out == whole);
    CHECK(holds(rank_piped(plant, text).out, "20 segments ranked"));
}

TEST_CASE("rows of segments in other parts are passed over, and counted on standard error") {
    const CutPlant plant{12};
    const std::size_t inspections = table_of(plant.path() + "/inspections.csv").rows.size();
    REQUIRE(inspections > 0);
    const Ran none = plant.rank_part(0, 0);
    CHECK(none.err == "lagline: info: passed over, since their segments are not in this part: " +
                          std::to_string(inspections) +
                          " rows of inspections.csv, 3 of "
                          "overrides.csv\n");
    // Without --stdin such a row is a mistake, as ever.
    plant.folder().write("segments.csv", plant.segments().heading + plant.segments().rows[0]);
    const Ran whole = run({"rank", plant.path(), "--today", portfolio_day});
    CHECK(whole.code == 3);
    CHECK(holds(whole.err, "[unknown-segment]"));
}

TEST_CASE("units without a segment in this part are no cause for a warning") {
    const CutPlant plant{12};
    const std::string yaml = file_text(plant.path() + "/plant.yaml");
    REQUIRE(holds(yaml, "\noutage:"));
    const Ran ran = rank_piped(plant, plant.segments().heading + plant.segments().rows[0]);
    CHECK(ran.code == 0);
    CHECK_FALSE(holds(ran.err, "warn"));
}

TEST_CASE("what is wrong in the rows is told with line and column of <stdin>; nothing comes out") {
    const CutPlant plant{12};
    std::string text = plant.segments().heading + plant.segments().rows[0];
    std::string second = plant.segments().rows[3];
    const std::size_t material = second.find("_steel");
    second.replace(material, 6, "_stele");
    const Ran word = rank_piped(plant, text + second, {"--format", "csv"});
    CHECK(word.code == 3);
    CHECK(word.out.empty());
    CHECK(holds(word.err, "<stdin>:3:"));
    CHECK(holds(word.err, "[unknown-word]"));

    const Ran twice = rank_piped(plant, text + plant.segments().rows[0], {"--format", "csv"});
    CHECK(twice.code == 3);
    CHECK(holds(twice.err, "<stdin>:3:1: error [duplicate-key]"));
    CHECK(holds(twice.err, "stands already in line 2"));

    const Ran no_heading = rank_piped(plant, plant.segments().rows[0], {"--format", "csv"});
    CHECK(no_heading.code == 3);
    CHECK(holds(no_heading.err, "<stdin>:1"));

    const Ran nothing = rank_piped(plant, "", {"--format", "csv"});
    CHECK(nothing.code == 3);
    CHECK(nothing.out.empty());
    CHECK(holds(nothing.err, "<stdin>: error [empty-file]"));
    CHECK(holds(nothing.err, "the command before the pipe failed"));

    const Ran latin = rank_piped(plant, text + "S-1,caf\xE9,\n", {"--format", "csv"});
    CHECK(latin.code == 3);
    CHECK(holds(latin.err, "<stdin>:3:8: error [not-utf8]"));

    RunChoice folder;
    folder.in_from = plant.path();
    const Ran directory = run({"rank", plant.path(), "--stdin"}, folder);
    CHECK(directory.code == 3);
    CHECK(holds(directory.err, "<stdin>: error [unreadable-file]"));
}

TEST_CASE("a part is no run for the ledger") {
    const CutPlant plant{6};
    for (const Arguments& keep :
         {Arguments{"--store"}, Arguments{"--ledger", plant.path() + "/x"}}) {
        const Ran ran = rank_piped(plant, file_text(plant.path() + "/segments.csv"), keep);
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, "a ranking of --stdin cannot be stored"));
    }
    CHECK_FALSE(fs::exists(plant.path() + "/lagline.db"));
    CHECK_FALSE(fs::exists(plant.path() + "/x"));
}

}  // namespace
}  // namespace lagline
