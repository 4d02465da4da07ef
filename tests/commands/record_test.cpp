// The way of the findings: from the plan to the sheet, and back into inspections.csv.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <random>
#include <thread>

#include "program.h"
#include "support/csv_records.h"
#include "support/rounds.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";
const std::string head =
    "segment,date,technique,coverage [%],least_thickness [mm],pit_depth [mm],rust_grade,"
    "insulation_wet,jacket_damage,coating_renewed [%],cracks_found,report\n";

/// A copy of the sample plant, to be written to.
class Site {
  public:
    Site() { fs::copy(sample, plant()); }
    [[nodiscard]] std::string plant() const { return (folder_.path() / "plant").string(); }
    [[nodiscard]] std::string inspections() const {
        return file_text(plant() + "/inspections.csv");
    }
    [[nodiscard]] std::string sheet(std::string_view rows) const {
        return folder_.write("sheet.csv", head + std::string{rows}).string();
    }
    [[nodiscard]] Arguments record(const std::string& sheet, const Arguments& more = {}) const {
        Arguments all{"record", plant(), sheet, "--today", "2027-06-01"};
        all.insert(all.end(), more.begin(), more.end());
        return all;
    }
    /// No file in the plant folder but those that were there.
    [[nodiscard]] bool clean() const {
        return std::distance(fs::directory_iterator{plant()}, {}) ==
               std::distance(fs::directory_iterator{sample}, {});
    }
    [[nodiscard]] const TempFolder& folder() const { return folder_; }

  private:
    TempFolder folder_;
};

const std::string two_rows =
    "S-00001,2027-04-20,strip_and_measure,90,4.1,,2,yes,minor,,,IR-2027-001\n"
    "S-00097,2027-04-21,strip_and_measure,100,2.9,0.4,,no,,,,\n";

TEST_CASE("record: what a plan gives to fill in, filled in, is added behind what is there") {
    const Site site;
    const std::string sheet = (site.folder().path() / "sheet.csv").string();
    REQUIRE(run({"plan", site.plant(), "--today", "2026-11-25", "--no-curve", "--gap", "0.05",
                 "--format", "findings", "--window", "TA-2027", "--out", sheet})
                .code == 0);
    const std::string empty = file_text(sheet);
    REQUIRE(empty.starts_with(head));
    const auto rows = csv_records(empty);
    REQUIRE(rows.size() > 5);
    const Ran nothing = run(site.record(sheet));
    CHECK(nothing.code == 0);
    CHECK(holds(nothing.out, "Nothing to record"));
    CHECK(holds(nothing.out, std::to_string(rows.size() - 1) + " rows without a finding"));
    CHECK(site.inspections() == file_text(sample + "/inspections.csv"));

    std::string filled = head;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        filled += rows[i][0] + (i % 2 == 0 ? ",,strip_and_measure,,,,,,,,,\n"
                                           : ",2027-04-20,strip_and_measure,95,2.4,,,yes,,,,\n");
    }
    const Ran recorded = run(site.record(site.folder().write("sheet.csv", filled).string()));
    INFO(recorded.err);
    REQUIRE(recorded.code == 0);
    CHECK(holds(recorded.out, "Recorded: " + std::to_string(rows.size() / 2) + " inspections"));
    CHECK(holds(recorded.out, "rows without a finding: " + rows[2][0] + " (line 3)"));
    const std::string before = file_text(sample + "/inspections.csv");
    CHECK(site.inspections().starts_with(before));
    CHECK(csv_records(site.inspections()).size() == csv_records(before).size() + rows.size() / 2);
    CHECK(run({"check", site.plant(), "--today", "2027-06-01"}).code == 0);
    const Ran again = run(site.record(sheet));
    CHECK(again.code == 3);
    CHECK(holds(again.err, "stands already in"));
}

TEST_CASE("record: the ranking is that of the same rows put in by hand") {
    const Site site;
    const Site by_hand;
    by_hand.folder().write("plant/inspections.csv",
                           file_text(sample + "/inspections.csv") + two_rows);
    const std::string sheet = site.sheet(two_rows);
    const Ran trial = run(site.record(sheet, {"--dry-run"}));
    REQUIRE(trial.code == 0);
    CHECK(holds(trial.out, "Nothing was written"));
    CHECK(holds(trial.out, "S-00001,2027-04-20,strip_and_measure,90,4.1"));
    CHECK(site.inspections() == file_text(sample + "/inspections.csv"));
    REQUIRE(run(site.record(sheet)).code == 0);
    const auto ranking = [](const Site& of) {
        return run({"rank", of.plant(), "--today", "2027-06-01", "--format", "csv"}).out;
    };
    CHECK(ranking(site) == ranking(by_hand));
    CHECK(ranking(site) != run({"rank", sample, "--today", "2027-06-01", "--format", "csv"}).out);

    // What it said of the change is what the rankings say.
    const auto rank_of = [&](const std::string& plant) {
        const auto rows =
            csv_records(run({"rank", plant, "--today", "2027-06-01", "--format", "csv"}).out);
        const auto at = [&](std::string_view heading) {
            return static_cast<std::size_t>(std::ranges::find(rows[0], heading) - rows[0].begin());
        };
        for (const auto& row : rows) {
            if (row[at("segment")] == "S-00001") return row[at("rank")];
        }
        return std::string{};
    };
    const std::string line = trial.out.substr(trial.out.find("\nS-00001 "));
    const std::string cells = line.substr(0, line.find('\n', 1));
    CHECK(holds(cells, " " + rank_of(sample) + " "));
    CHECK(holds(cells, " " + rank_of(site.plant()) + " "));
}

TEST_CASE("record: with one error nothing is written, and the error is told at the sheet") {
    const Site site;
    const Ran refused = run(
        site.record(site.sheet(two_rows + "S-00001,2028-01-01,strip_and_measure,90,4.1,,,,,,,\n")));
    CHECK(refused.code == 3);
    CHECK(holds(refused.err, "sheet.csv:4:9"));
    CHECK(holds(refused.err, "2028-01-01"));
    CHECK(holds(refused.err, "nothing was written"));
    CHECK(site.inspections() == file_text(sample + "/inspections.csv"));
    CHECK(run({"record", site.plant(), "no-such.csv"}).code == 3);
    CHECK(run({"record", site.plant(), site.plant() + "/inspections.csv"}).code == 2);
}

TEST_CASE("record: a file without its last line end, and with a byte-order mark, is added to") {
    const Site site;
    std::string text = "\xEF\xBB\xBF" + file_text(sample + "/inspections.csv");
    text.pop_back();
    site.folder().write("plant/inspections.csv", text);
    REQUIRE(run(site.record(site.sheet(two_rows))).code == 0);
    CHECK(site.inspections() == text + "\n" + two_rows);
}

TEST_CASE("record: without inspections.csv one is started") {
    const Site site;
    fs::remove(site.plant() + "/inspections.csv");
    REQUIRE(run(site.record(site.sheet(two_rows))).code == 0);
    CHECK(site.inspections() == head + two_rows);
}

TEST_CASE("record: a full disk and a folder that may not be written leave all as it was") {
    const Site site;
    const std::string sheet = site.sheet(two_rows);
    const Ran full = run(site.record(sheet), {.most_file_bytes = 20'000});
    CHECK(full.code != 0);
    CHECK(site.inspections() == file_text(sample + "/inspections.csv"));
    CHECK(site.clean());
    if (!is_root()) return;
    fs::permissions(site.folder().path(), fs::perms::others_all, fs::perm_options::add);
    fs::permissions(site.plant(), fs::perms::others_read | fs::perms::others_exec,
                    fs::perm_options::add);
    const Ran kept_out = run(site.record(sheet), {.as_nobody = true});
    CHECK(kept_out.code == 1);
    CHECK(holds(kept_out.err, "Permission denied"));
    CHECK(site.inspections() == file_text(sample + "/inspections.csv"));
    CHECK(site.clean());
}

// A run of the program that is not waited for.
pid_t started(Arguments arguments) {
    arguments.insert(arguments.begin(), "lagline");
    std::vector<char*> argv;
    for (std::string& text : arguments) argv.push_back(text.data());
    argv.push_back(nullptr);
    const pid_t child = ::fork();
    if (child != 0) return child;
    const int null = ::open("/dev/null", O_WRONLY);
    ::dup2(null, STDOUT_FILENO);
    ::dup2(null, STDERR_FILENO);
    ::execv(LAGLINE_PROGRAM, argv.data());
    ::_exit(127);
}

int ended(pid_t child) {
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_CASE("record: of two that record the same at once, one does and the other refuses") {
    const std::string before = file_text(sample + "/inspections.csv");
    for (int trial = 0; trial < 5; ++trial) {
        const Site site;
        const std::string sheet = site.sheet(two_rows);
        const pid_t a = started(site.record(sheet));
        const pid_t b = started(site.record(sheet));
        const int of_a = ended(a);
        const int of_b = ended(b);
        CAPTURE(of_a);
        CAPTURE(of_b);
        CHECK((of_a == 0) != (of_b == 0));
        CHECK(site.inspections() == before + two_rows);
        CHECK(site.clean());
    }
}

TEST_CASE("record: killed at any moment, the rows are there whole or not at all") {
    const std::string before = file_text(sample + "/inspections.csv");
    std::mt19937 random{5};
    std::uniform_int_distribution<int> microseconds{0, 150'000};
    for (int trial = 0; trial < rounds(15); ++trial) {
        const Site site;
        const pid_t child = started(site.record(site.sheet(two_rows)));
        std::this_thread::sleep_for(std::chrono::microseconds{microseconds(random)});
        ::kill(child, SIGKILL);
        const bool written = ended(child) == 0;
        const std::string after = site.inspections();
        CHECK((after == before || after == before + two_rows));
        if (written) CHECK(after == before + two_rows);
    }
}

TEST_CASE("plan: sheets of one window, and of no window that is not there") {
    const auto plan = [](const Arguments& more) {
        Arguments all{"plan", sample, "--today", "2026-11-25", "--no-curve", "--gap", "0.05"};
        all.insert(all.end(), more.begin(), more.end());
        return run(all);
    };
    const auto sheet = csv_records(plan({"--format", "findings", "--window", "OS-2028"}).out);
    const auto rows = csv_records(plan({"--format", "csv"}).out);
    const auto inspected = std::ranges::count_if(
        rows, [](const auto& row) { return row[6] == "OS-2028" && row[5] != "replace_run"; });
    CHECK(static_cast<std::size_t>(inspected) == sheet.size() - 1);
    CHECK(inspected > 0);
    const Ran unknown = plan({"--format", "pack", "--window", "TA-1999"});
    CHECK(unknown.code == 3);
    CHECK(holds(unknown.err, "TA-2027"));
    CHECK(run({"plan", sample, "--window", "TA-2027"}).code == 2);
}

}  // namespace
}  // namespace lagline
