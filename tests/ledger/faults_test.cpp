// A disk that is full, a folder that may not be written, a ledger that is in use.
#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>
#include <sys/mount.h>

#include "commands/program.h"
#include "ledger/verify.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

NewRun large_run() {
    NewRun run = small_run(9);
    run.files.push_back({"results/large", noise(2'000'000, 9)});
    return run;
}

Problem problem_of_storing(Ledger& ledger, NewRun run) {
    try {
        ledger.store(std::move(run), some_time);
    } catch (const LedgerFault& fault) {
        CHECK_FALSE(fault.diagnostic().found.empty());
        CHECK_FALSE(fault.diagnostic().mend.empty());
        return fault.diagnostic().problem;
    }
    FAIL("the run was stored");
    return {};
}

TEST_CASE("a full disk, as the database sees it: nothing of the run is kept, later it goes on") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 2);
    const auto before = all_it_says(file);
    {
        Ledger ledger = Ledger::to_write(file);
        ledger.limit_pages(static_cast<int>(fs::file_size(file) / 4096) + 20);
        CHECK(problem_of_storing(ledger, large_run()) == Problem::not_stored);
        CHECK(ledger.runs().size() == 2);
    }
    CHECK(all_it_says(file) == before);
    CHECK(Ledger::to_write(file).store(large_run(), some_time).number == 3);
    CHECK(check_content(file).report.ok());
}

// A file system of its own, gone with this object.
class SmallDisk {
  public:
    SmallDisk() {
        mounted_ = ::mount("tmpfs", folder_.path().c_str(), "tmpfs", 0, "size=512k") == 0;
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;
    ~SmallDisk() {
        if (mounted_) ::umount2(folder_.path().c_str(), MNT_DETACH);
    }
    [[nodiscard]] bool mounted() const { return mounted_; }
    [[nodiscard]] const TempFolder& folder() const { return folder_; }

  private:
    TempFolder folder_;
    bool mounted_ = false;
};

TEST_CASE("a disk that is full in truth") {
    const SmallDisk disk;
    if (!disk.mounted()) {
        MESSAGE("skipped: this process may not mount a small disk");
        return;
    }
    const auto file = made_ledger(disk.folder(), 2);
    const auto before = all_it_says(file);
    {
        Ledger ledger = Ledger::to_write(file);
        CHECK(problem_of_storing(ledger, large_run()) == Problem::not_stored);
    }
    CHECK(all_it_says(file) == before);
    CHECK(check_content(file).report.ok());
    // Filled to the last byte: not even a new ledger can be started.
    disk.folder().write("filler", noise(600'000, 1));
    CHECK_THROWS_AS(static_cast<void>(Ledger::to_write(disk.folder().path() / "new.db")),
                    LedgerFault);
    CHECK_FALSE(fs::exists(disk.folder().path() / "new.db"));
    CHECK(check_content(file).report.ok());
}

TEST_CASE("the program on a file that may not grow: exit code 1, earlier runs as they were") {
    const StarterPlant plant;
    const Arguments rank{"rank", plant.path(), "--at", fixed_day, "--store"};
    REQUIRE(run(rank).code == 0);
    const auto before = all_it_says(plant.file(ledger_name));
    // Much to store in files that are each below the limit: comments, which change no rule.
    plant.write("rules/site.yaml", "ruleset: {name: site, meaning: ours}\n");
    for (int i = 0; i < 8; ++i) {
        std::string comment;
        for (const char c : noise(20'000, i)) comment += static_cast<char>('a' + (c & 15));
        plant.write("rules/" + std::to_string(i) + ".yaml", "# " + comment + "\n");
    }
    constexpr std::uint64_t limit = 60'000;
    const Ran ran = run(rank, {.most_file_bytes = limit});
    INFO(ran.err);
    CHECK(ran.code == 1);
    CHECK(holds(ran.err, "not-stored"));
    CHECK(holds(ran.err, "mend"));
    CHECK(ran.out.empty());
    CHECK(all_it_says(plant.file(ledger_name)) == before);
    CHECK(run({"verify", plant.path()}).code == 0);
}

TEST_CASE("another process is writing: told, nothing changed, and reading goes on") {
    const StarterPlant plant;
    const Arguments rank{"rank", plant.path(), "--at", fixed_day, "--store"};
    REQUIRE(run(rank).code == 0);
    {
        SQLite::Database other{plant.file(ledger_name), SQLite::OPEN_READWRITE};
        SQLite::Transaction held{other, SQLite::TransactionBehavior::IMMEDIATE};
        Ledger ledger = Ledger::to_write(plant.file(ledger_name), 50);
        CHECK(problem_of_storing(ledger, small_run(1)) == Problem::ledger_busy);
        const Ran ran = run(rank);
        INFO(ran.err);
        CHECK(ran.code == 1);
        CHECK(holds(ran.err, "ledger-busy"));
        CHECK(holds(ran.err, "another process is writing to it"));
        CHECK(run({"runs", plant.path()}).code == 0);
        CHECK(run({"verify", plant.path()}).code == 0);
    }
    CHECK(run(rank).code == 0);
    CHECK(check_content(plant.file(ledger_name)).runs == 2);
}

// How the program is started so that permissions count; nothing when it cannot be.
std::optional<RunChoice> without_rights() {
    RunChoice choice;
    choice.as_nobody = is_root();
    try {
        if (run({"--version"}, choice).code == 0) return choice;
    } catch (const std::runtime_error&) {
    }
    MESSAGE("skipped: the program cannot be started as another user");
    return std::nullopt;
}

TEST_CASE("a folder that may not be written: storing is told, reading and verifying work") {
    const auto choice = without_rights();
    if (!choice) return;
    const StarterPlant plant;
    const Arguments rank{"rank", plant.path(), "--at", fixed_day, "--store"};
    REQUIRE(run(rank).code == 0);
    fs::permissions(plant.folder().path(), fs::perms{0555});
    fs::permissions(plant.path(), fs::perms{0555});
    fs::permissions(plant.file(ledger_name), fs::perms{0444});
    const Ran stored = run(rank, *choice);
    INFO(stored.err);
    CHECK(stored.code == 1);
    CHECK(holds(stored.err, "not-stored"));
    CHECK(holds(stored.err, "--ledger FILE"));
    const Ran verified = run({"verify", plant.path()}, *choice);
    INFO(verified.err);
    INFO(verified.out);
    CHECK(verified.code == 0);
    CHECK(holds(verified.out, "reproduced byte for byte"));
    CHECK(run({"runs", plant.path()}, *choice).code == 0);
    const Ran none = run({"rank", plant.path(), "--at", fixed_day, "--ledger",
                          (plant.folder().path() / "other.db").string()},
                         *choice);
    CHECK(none.code == 1);
    CHECK(holds(none.err, "not-stored"));
    fs::permissions(plant.file(ledger_name), fs::perms{0000});
    const Ran hidden = run({"verify", plant.path()}, *choice);
    CHECK(hidden.code == 1);
    CHECK(holds(hidden.out, "unreadable-file"));
    for (const auto& path : {plant.folder().path(), fs::path{plant.path()}}) {
        fs::permissions(path, fs::perms{0755});
    }
}

TEST_CASE("a damaged ledger: exit code 4 of verify, 3 of the rest, and what to do") {
    const StarterPlant plant;
    REQUIRE(run({"rank", plant.path(), "--at", fixed_day, "--store"}).code == 0);
    const std::string whole = plant.text(ledger_name);
    plant.write(ledger_name, whole.substr(0, whole.size() / 2));
    for (const auto* command : {"runs", "verify"}) {
        const Ran ran = run({command, plant.path()});
        CAPTURE(command);
        CHECK(ran.code == (std::string{command} == "verify" ? 4 : 3));
        CHECK(holds(ran.out + ran.err, "ledger-damaged"));
        CHECK(holds(ran.out + ran.err, "put back a copy"));
    }
    const Ran ran = run({"rank", plant.path(), "--at", fixed_day, "--store"});
    CHECK(ran.code == 3);
    CHECK(holds(ran.err, "ledger-damaged"));
}

}  // namespace
}  // namespace lagline
