// How output looks, and what happens when it cannot be written.
#include <doctest/doctest.h>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

TEST_CASE("colour only on a terminal and without NO_COLOR") {
    const StarterPlant plant;
    const Arguments rank{"rank", plant.path(), "--at", fixed_day};
    const RunChoice colour{.environment = {"TERM=xterm", "NO_COLOR="}};
    CHECK(holds(run_on_terminal(rank, 80, colour).out, "\x1b["));
    CHECK_FALSE(holds(run(rank, colour).out, "\x1b["));
    CHECK_FALSE(holds(run_on_terminal(rank, 80, {.environment = {"TERM=xterm", "NO_COLOR=1"}}).out,
                      "\x1b["));
    CHECK_FALSE(
        holds(run_on_terminal(rank, 80, {.environment = {"TERM=dumb", "NO_COLOR="}}).out, "\x1b["));
}

TEST_CASE("what goes to a terminal of 80 columns fits it") {
    const RunChoice plain{.environment = {"TERM=xterm", "NO_COLOR=1"}};
    const StarterPlant bad;
    bad.replace("segments.csv", "Sch 40", "nan");
    for (const Arguments& arguments : {Arguments{"rank", sample, "--at", fixed_day},
                                       {"check", sample, "--at", fixed_day},
                                       {"rules", "list"},
                                       {"rules", "show", "insulation_factor"},
                                       {"rules", "check"},
                                       {"rules", "sources"},
                                       {"rules", "recalled"},
                                       {"explain", sample, "S-00001", "--at", fixed_day}}) {
        const Ran ran = run_on_terminal(arguments, 80, plain);
        CAPTURE(arguments.back());
        CAPTURE(arguments.front());
        CHECK(ran.code == 0);
        CHECK(count(ran.out, "\n") > 5);
        CHECK(widest_line(ran.out) <= 80);
    }
    // Paths stand whole, whatever their length: they are to be clicked.
    const Ran refused = run_on_terminal({"check", bad.path(), "--at", fixed_day}, 80, plain);
    CHECK(refused.code == 3);
    CHECK(widest_line(refused.out) <= 80);
}

TEST_CASE("an output that cannot be written: exit code 1, the old file whole, nothing beside it") {
    const TempFolder folder;
    const auto out = folder.write("ranking.csv", "old\n").string();
    const Ran full =
        run({"rank", sample, "--at", fixed_day, "--format", "csv", "--out", out, "--force"},
            {.most_file_bytes = 4096});
    INFO(full.err);
    CHECK(full.code == 1);
    CHECK(holds(full.err, "nothing was written"));
    CHECK(file_text(out) == "old\n");
    CHECK(folder.names() == std::vector<std::string>{"ranking.csv"});

    const Ran device = run({"rank", sample, "--at", fixed_day, "--out", "/dev/full"});
    CHECK(device.code == 1);
    CHECK(holds(device.err, "No space left on device"));
    const Ran standard = run({"rank", sample, "--at", fixed_day}, {.out_to = "/dev/full"});
    CHECK(standard.code == 1);
    CHECK(holds(standard.err, "cannot write to standard output"));
    const Ran nowhere =
        run({"rank", sample, "--at", fixed_day, "--out", (folder.path() / "no" / "such").string()});
    CHECK(nowhere.code == 1);
    CHECK(run({"rank", sample, "--at", fixed_day, "--out", folder.path().string()}).code == 1);
}

TEST_CASE("--out replaces a file whole and says nothing") {
    const TempFolder folder;
    const auto out = folder.write("ranking.csv", std::string(100'000, 'x')).string();
    const Arguments rank{"rank", sample, "--at", fixed_day, "--format", "csv"};
    Arguments to_file = rank;
    to_file.insert(to_file.end(), {"--out", out, "--force"});
    const Ran ran = run(to_file);
    CHECK(ran.code == 0);
    CHECK(ran.out.empty());
    const bool same = file_text(out) == run(rank).out;
    CHECK(same);
    CHECK(folder.names() == std::vector<std::string>{"ranking.csv"});
}

}  // namespace
}  // namespace lagline
