// The ledger through the command line.
#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>

#include "commands/program.h"
#include "ledger/verify.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

const Arguments no_more;

Ran store(const StarterPlant& plant, const Arguments& more = no_more) {
    Arguments rank{"rank", plant.path(), "--at", fixed_day, "--store"};
    rank.insert(rank.end(), more.begin(), more.end());
    return run(rank);
}

std::string printed_digest(const std::string& text) {
    return text.substr(text.find("digest ") + 7, 64);
}

TEST_CASE("rank --store prints the ranking as ever, and number and digest of the run") {
    const StarterPlant plant;
    for (const Arguments& form : {Arguments{},
                                  {"--format", "csv"},
                                  {"--format", "json"},
                                  {"--top", "1"},
                                  {"--top", "1", "--format", "csv"}}) {
        Arguments rank{"rank", plant.path(), "--at", fixed_day};
        rank.insert(rank.end(), form.begin(), form.end());
        const Ran stored = store(plant, form);
        INFO(stored.err);
        CHECK(stored.code == 0);
        const bool same = stored.out == run(rank).out;
        CHECK(same);
    }
    const Ran last = store(plant);
    CHECK(holds(last.err, "stored as run 6 in " + plant.file(ledger_name)));
    CHECK(printed_digest(last.err) == check_content(plant.file(ledger_name)).last_digest);
}

TEST_CASE("the ledger is no input, and the stored ranking is what `rank` gives as CSV") {
    const StarterPlant plant;
    const Arguments csv{"rank", plant.path(), "--at", fixed_day, "--format", "csv"};
    const Ran before = run(csv);
    REQUIRE(store(plant).code == 0);
    CHECK(run(csv).out == before.out);
    CHECK(run({"check", plant.path(), "--at", fixed_day}).code == 0);
    const Ledger ledger = Ledger::to_read(plant.file(ledger_name));
    const bool same = ledger.file(ledger.run(1), "results/ranking.csv") == before.out;
    CHECK(same);
    for (const Item& item : ledger.run(1).items) CHECK_FALSE(holds(item.path, "lagline.db"));
    CHECK(ledger.file(ledger.run(1), "plant/segments.csv") == plant.text("segments.csv"));
}

TEST_CASE("verify makes a run again from the ledger alone") {
    const StarterPlant plant;
    REQUIRE(store(plant).code == 0);
    REQUIRE(store(plant, {"--rules", "published"}).code == 0);
    REQUIRE(run({"sign", plant.path(), "1", "--as", "A. Engineer", "--role", "inspector", "--note",
                 "seen"})
                .code == 0);
    const TempFolder elsewhere;
    fs::copy_file(plant.file(ledger_name), elsewhere.path() / "copy.db");
    fs::remove_all(plant.path());
    // Not even the shipped rules are needed.
    const RunChoice no_rules{.environment = {"LAGLINE_RULES=/nowhere"}};
    const std::string copy = (elsewhere.path() / "copy.db").string();
    const Ran verified = run({"verify", copy}, no_rules);
    INFO(verified.out);
    INFO(verified.err);
    CHECK(verified.code == 0);
    CHECK(holds(verified.out, "Run 1: reproduced byte for byte, 3 files"));
    CHECK(holds(verified.out, "Run 2: reproduced byte for byte, 3 files"));
    CHECK(elsewhere.names() == std::vector<std::string>{"copy.db"});
    const Ran one = run({"verify", copy, "2"}, no_rules);
    CHECK(one.code == 0);
    CHECK_FALSE(holds(one.out, "Run 1:"));
    const Ran none = run({"verify", copy, "--digests-only"});
    CHECK(none.code == 0);
    CHECK(holds(none.out, "No run was made again"));
    const Ran json = run({"verify", copy, "--format", "json"}, no_rules);
    CHECK(json.code == 0);
    CHECK(holds(json.out, "\"ok\": true"));
}

TEST_CASE("a result that its inputs do not give is found, digests or not") {
    // A run whose digests are all right, but whose result somebody made up.
    const StarterPlant plant;
    REQUIRE(store(plant).code == 0);
    {
        Ledger ledger = Ledger::to_write(plant.file(ledger_name));
        const RunEntry first = ledger.run(1);
        NewRun forged{first.kind, first.engine, ledger.files(first)};
        for (StoredFile& file : forged.files) {
            if (file.path == "results/ranking.csv") file.bytes += "99,S-9999\n";
        }
        ledger.store(forged, some_time);
        forged.engine = "0.0.1";
        ledger.store(forged, some_time);
        forged.kind = "tarot";
        ledger.store(forged, some_time);
    }
    const Ran verified = run({"verify", plant.path()});
    INFO(verified.out);
    CHECK(verified.code == 4);
    CHECK(holds(verified.out, "Run 1: reproduced byte for byte"));
    CHECK(holds(verified.out, "Run 2: DIFFERENT: results/ranking.csv\n"));
    CHECK(holds(verified.out, "DIFFERENT: results/ranking.csv (stored by 0.0.1, this is "));
    CHECK(holds(verified.out, "Run 4: not made again: a run of a kind that this version does not"));
}

TEST_CASE("an auditor checks a run with sha256sum alone") {
    const StarterPlant plant;
    REQUIRE(store(plant).code == 0);
    const Ran last = store(plant, {"--rules", "published"});
    const TempFolder folder;
    const std::string out = (folder.path() / "run").string();
    REQUIRE(run({"show", plant.path(), "2", "--extract", out}).code == 0);
    CHECK(shell("cd " + out + " && sha256sum manifest.txt").front().substr(0, 64) ==
          printed_digest(last.err));
    const auto lines = shell("cd " + out + " && tail -n +8 manifest.txt | sha256sum -c");
    CHECK(lines.size() == Ledger::to_read(plant.file(ledger_name)).run(2).items.size());
    for (const auto& line : lines) CHECK(line.ends_with(": OK"));
    folder.write("run/plant/segments.csv", "other\n");
    CHECK_THROWS(shell("cd " + out + " && tail -n +8 manifest.txt | sha256sum -c 2>&1"));
    CHECK(run({"show", plant.path(), "2", "--extract", out}).code == 2);
}

TEST_CASE("signatures are appended and shown, for what they are") {
    const StarterPlant plant;
    REQUIRE(store(plant).code == 0);
    const Arguments sign{"sign",      plant.path(),  "1",
                         "--as",      "A. Engineer", "--role",
                         "inspector", "--note",      "scope of TA-2027"};
    CHECK(run(sign).code == 0);
    CHECK(run(sign).code == 0);
    const Ran shown = run({"show", plant.path(), "1"});
    CHECK(count(shown.out, "A. Engineer (inspector): scope of TA-2027") == 2);
    CHECK(holds(shown.out, "no proof of who it was"));
    CHECK(holds(run({"runs", plant.path()}).out, "A. Engineer, A. Engineer"));
    CHECK(holds(run({"show", plant.path(), "1", "--format", "json"}).out, "scope of TA-2027"));
    Arguments two_lines = sign;
    two_lines.back() = "two\nlines";
    const Ran refused = run(two_lines);
    CHECK(refused.code == 1);
    CHECK(holds(refused.err, "not-stored"));
    Arguments unknown = sign;
    unknown[2] = "7";
    CHECK(run(unknown).code == 3);
    CHECK(check_content(plant.file(ledger_name)).signatures == 2);
}

TEST_CASE("another ledger than that of the folder, and none at all") {
    const StarterPlant plant;
    const std::string other = (plant.folder().path() / "other.db").string();
    CHECK(run({"rank", plant.path(), "--at", fixed_day, "--ledger", other}).code == 0);
    CHECK_FALSE(fs::exists(plant.file(ledger_name)));
    CHECK(run({"verify", other}).code == 0);
    for (const Arguments& command :
         {Arguments{"runs", plant.path()},
          {"show", plant.path(), "1"},
          {"verify", plant.path()},
          {"compare", plant.path(), "1", "2"},
          {"sign", plant.path(), "1", "--as", "a", "--role", "b", "--note", "c"}}) {
        const Ran ran = run(command);
        CAPTURE(command.front());
        CHECK(ran.code == 3);
        CHECK(holds(ran.out + ran.err, "missing-file"));
        CHECK(holds(ran.out + ran.err, "--store"));
    }
    CHECK_FALSE(fs::exists(plant.file(ledger_name)));
    CHECK(run({"show", other, "2"}).code == 3);
    CHECK(run({"show", other, "x"}).code == 2);
}

TEST_CASE("a plant with errors is not stored") {
    const StarterPlant plant;
    plant.replace("segments.csv", "Sch 40", "nan");
    CHECK(store(plant).code == 3);
    CHECK_FALSE(fs::exists(plant.file(ledger_name)));
}

TEST_CASE("overrides in force and assumptions are stored with the run") {
    const StarterPlant plant;
    plant.write("overrides.csv",
                "segment,quantity,value,reason,who,when,until\n"
                "EX-001,insulation_condition,below_average,\"open jacket, support 4\",A. "
                "Engineer,2026-02-11,\nEX-001,coating_quality,none,old,A. "
                "Engineer,2026-02-11,2027-01-01\n");
    const Ran ran = store(plant);
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    const Ledger ledger = Ledger::to_read(plant.file(ledger_name));
    const auto records = csv_records(ledger.file(ledger.run(1), "results/overrides.csv"));
    REQUIRE(records.size() == 2);  // the one that ran out is not in force
    CHECK(records[1][0] == "EX-001");
    CHECK(records[1][1] == "insulation_condition");
    CHECK(records[1][2] == "below_average");
    CHECK(records[1][4] == "open jacket, support 4");
    CHECK(csv_records(ledger.file(ledger.run(1), "results/assumptions.csv")).size() > 2);
}

TEST_CASE("what goes to a terminal of 80 columns fits it") {
    const StarterPlant plant;
    REQUIRE(store(plant).code == 0);
    REQUIRE(store(plant, {"--rules", "published"}).code == 0);
    REQUIRE(run({"sign", plant.path(), "1", "--as", "A. Engineer", "--role", "inspector", "--note",
                 std::string(150, 'n') + " end"})
                .code == 0);
    const RunChoice plain{.environment = {"TERM=xterm", "NO_COLOR=1"}};
    for (const Arguments& command : {Arguments{"runs", plant.path()},
                                     {"verify", plant.path()},
                                     {"show", plant.path(), "2"},
                                     {"compare", plant.path(), "1", "2"}}) {
        const Ran ran = run_on_terminal(command, 80, plain);
        CAPTURE(command.front());
        CHECK(ran.code == 0);
        CHECK(count(ran.out, "\n") > 3);
        CHECK(widest_line(ran.out) <= 80);
    }
    for (const auto* command : {"runs", "show", "sign", "verify", "compare"}) {
        const Ran help = run({command, "--help"});
        CHECK(help.code == 0);
        CHECK(holds(help.out, std::string{"\n  lagline "} + command + " "));
        CHECK(widest_line(help.out) <= 80);
    }
}

}  // namespace
}  // namespace lagline
