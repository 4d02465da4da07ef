#include "ledger/snapshot.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "blocks/scratch_folder.h"
#include "ledger/rerun.h"
#include "made_ledger.h"
#include "support/csv_records.h"
#include "support/rules.h"

namespace lagline {
namespace {

bool has(const InputSnapshot& snapshot, std::string_view path) {
    return std::ranges::find(snapshot.files, path, &StoredFile::path) != snapshot.files.end();
}

TEST_CASE("a snapshot has the inputs of the folder and every layer of rules, and nothing else") {
    const TempFolder folder;
    const std::string plant = sample_copy(folder, "plant");
    folder.write("plant/ranking.csv", "an output\n");
    folder.write("plant/lagline.db", "a ledger\n");
    folder.write("plant/notes.txt", "notes\n");
    const InputSnapshot snapshot = snapshot_of(plant, extended_rules());
    CHECK(snapshot.rule_set == "extended");
    for (const auto* name : {"plant.yaml", "segments.csv", "inspections.csv", "turnarounds.csv"}) {
        CHECK(has(snapshot, std::string{"plant/"} + name));
    }
    CHECK(has(snapshot, "rules/published/corrosion-rate.yaml"));
    CHECK(has(snapshot, "rules/extended/coating.yaml"));
    CHECK_FALSE(has(snapshot, "plant/ranking.csv"));
    CHECK_FALSE(has(snapshot, "plant/lagline.db"));
    CHECK_FALSE(has(snapshot, "plant/notes.txt"));
    for (const StoredFile& file : snapshot.files) {
        if (file.path == "plant/segments.csv") {
            CHECK(file.bytes == file_text(plant + "/segments.csv"));
        }
    }
}

TEST_CASE("rules of a snapshot load again to the same rules, the site's overlay with them") {
    const TempFolder folder;
    const std::string plant = sample_copy(folder, "plant");
    folder.write("plant/rules/site.yaml",
                 "ruleset: {name: site, meaning: ours}\nchanges:\n  - {table: insulation_factor, "
                 "entry: mineral_wool, to: 1.4, reason: survey}\n");
    const auto loaded = load_rules(rules_root(), "extended", plant + "/rules");
    REQUIRE(loaded.rules);
    const InputSnapshot snapshot = snapshot_of(plant, *loaded.rules);
    CHECK(has(snapshot, "plant/rules/site.yaml"));
    const ScratchFolder scratch;
    write_files(snapshot.files, scratch.path());
    const auto again =
        load_rules(scratch.path() / "rules", snapshot.rule_set, scratch.path() / "plant" / "rules");
    REQUIRE(again.rules);
    CHECK(again.rules->layers == loaded.rules->layers);
    CHECK(all_entries(*again.rules).size() == all_entries(*loaded.rules).size());
    CHECK(again.rules->changes.size() == loaded.rules->changes.size());
}

TEST_CASE("a rule set of one's own that is named like a shipped one keeps a name of its own") {
    const TempFolder folder;
    const std::string plant = sample_copy(folder, "plant");
    folder.write("mine/published/own.yaml",
                 "ruleset: {name: mine, meaning: ours, based_on: published}\n");
    const auto loaded = load_rules(rules_root(), (folder.path() / "mine/published").string());
    REQUIRE(loaded.rules);
    const InputSnapshot snapshot = snapshot_of(plant, *loaded.rules);
    CHECK(snapshot.rule_set == "published-given");
    const ScratchFolder scratch;
    write_files(snapshot.files, scratch.path());
    const auto again = load_rules(scratch.path() / "rules", snapshot.rule_set);
    REQUIRE(again.rules);
    CHECK(again.rules->layers == loaded.rules->layers);
}

TEST_CASE("files are never written outside their folder") {
    const ScratchFolder scratch;
    const auto inside = scratch.path() / "inside";
    CHECK_THROWS(write_files({{"../outside", "x"}}, inside));
    CHECK_THROWS(write_files({{(scratch.path() / "outside").string(), "x"}}, inside));
    CHECK_FALSE(std::filesystem::exists(scratch.path() / "outside"));
}

TEST_CASE("options have one form, and read back") {
    const RunOptions options{{"today", "2030-04-08"}, {"at", "2031-01-01"}, {"rules", "a\"b"}};
    const std::string json = canonical_json(options);
    CHECK(json == "{\"at\":\"2031-01-01\",\"rules\":\"a\\\"b\",\"today\":\"2030-04-08\"}\n");
    CHECK(read_options(json) == options);
    for (const auto* bad : {"", "[]", "{\"a\":1}", "{\"a\":\"b\""}) CHECK_FALSE(read_options(bad));
}

TEST_CASE("a run that cannot be laid out is told, not thrown") {
    const Rerun never = [](const RunInputs&) -> RunOutcome { throw std::runtime_error("no luck"); };
    CHECK(run_again("rank", {}, never).problem == "the run has no options.json");
    CHECK(run_again("rank", {{"options.json", "{"}}, never).problem ==
          "options.json of the run cannot be read");
    CHECK(run_again("rank", {{"options.json", "{}"}}, never).problem == "no luck");
    CHECK(run_again("rank", {{"options.json", "{}"}, {"plant/../../x", "y"}}, never)
              .problem.find("leads elsewhere") != std::string::npos);
}

}  // namespace
}  // namespace lagline
