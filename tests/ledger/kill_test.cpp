// A process that stores runs is killed (SIGKILL) at a random moment, hundreds of times.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <random>
#include <thread>

#include "commands/program.h"
#include "ledger/verify.h"
#include "made_ledger.h"
#include "support/rounds.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;
using std::chrono::microseconds;

// A child that does `work` until it is killed; what it says through the pipe is counted.
class Victim {
  public:
    template <class Work>
    explicit Victim(const Work& work) {
        std::array<int, 2> ends{};
        if (::pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
        child_ = ::fork();
        if (child_ == 0) {
            ::close(ends[0]);
            work(ends[1]);
            ::_exit(0);
        }
        ::close(ends[1]);
        from_ = ends[0];
    }
    Victim(const Victim&) = delete;
    Victim& operator=(const Victim&) = delete;
    ~Victim() { ::close(from_); }

    /// Waits until it says something.
    void wait() const {
        char said = 0;
        if (::read(from_, &said, 1) != 1) throw std::runtime_error("the child gave up");
    }
    /// Kills it after so long.  @return how often it has said something since
    std::int64_t kill_after(microseconds delay) {
        std::this_thread::sleep_for(delay);
        ::kill(child_, SIGKILL);
        while (::waitpid(child_, nullptr, 0) < 0 && errno == EINTR) {
        }
        std::int64_t said = 0;
        std::array<char, 256> piece{};
        for (ssize_t got = 1; got > 0;) {
            got = ::read(from_, piece.data(), piece.size());
            if (got > 0) said += got;
        }
        return said;
    }

  private:
    pid_t child_ = -1;
    int from_ = -1;
};

void say(int to) {
    if (::write(to, "x", 1) != 1) ::_exit(1);
}

// Says so once the ledger is open, and after every run.
void store_for_ever(const fs::path& file, int to) {
    Ledger ledger = Ledger::to_write(file);
    say(to);
    for (int seed = 1;; ++seed) {
        NewRun run = small_run(seed);
        run.files.push_back({"results/more", noise(60'000, ::getpid() + seed)});
        ledger.store(std::move(run), some_time);
        say(to);
    }
}

// How long things take on this machine, as busy as it is.
template <class Work>
microseconds time_of(const Work& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration_cast<microseconds>(std::chrono::steady_clock::now() - start);
}

microseconds up_to(microseconds most, std::mt19937& random) {
    return microseconds{std::uniform_int_distribution<std::int64_t>{
        0, std::max(most, microseconds{1}).count()}(random)};
}

std::uintmax_t size_of(const fs::path& file) {
    std::error_code none;
    const auto size = fs::file_size(file, none);
    return none ? 0 : size;
}

TEST_CASE("killed while storing: every run that was told is there whole, at most one more") {
    constexpr int trials = rounds(300);
    constexpr int trials_per_ledger = 30;
    std::mt19937 random{1};
    int cut = 0;
    std::int64_t all = 0;
    for (int done = 0; done < trials;) {
        const TempFolder folder;
        const auto file = made_ledger(folder, 1);
        std::int64_t stored = 1;
        microseconds one_run{};
        {
            const TempFolder other;
            const auto there = made_ledger(other, 1);
            Victim victim{[&](int to) { store_for_ever(there, to); }};
            victim.wait();
            one_run = time_of([&] { victim.wait(); });
            victim.kill_after(microseconds{0});
        }
        for (int i = 0; i < trials_per_ledger && done < trials; ++i, ++done) {
            Victim victim{[&](int to) { store_for_ever(file, to); }};
            victim.wait();
            const std::int64_t said = victim.kill_after(up_to(3 * one_run, random));
            if (size_of(file.string() + "-wal") > 0) ++cut;
            const ContentCheck check = check_content(file);
            CAPTURE(done);
            INFO(to_text(check.report));
            REQUIRE(check.report.ok());
            CHECK(check.runs >= stored + said);
            CHECK(check.runs <= stored + said + 1);
            stored = check.runs;
        }
        all += stored;
    }
    MESSAGE(trials << " kills, " << cut << " of them with a write under way or not yet taken in; "
                   << all << " runs stored, all whole");
    CHECK(cut > trials / 10);
}

TEST_CASE("killed while the ledger is started: it is there whole, or not at all") {
    constexpr int trials = rounds(60);
    std::mt19937 random{2};
    microseconds start{};
    {
        const TempFolder folder;
        start = time_of([&] {
            Victim victim{[&](int to) { store_for_ever(folder.path() / ledger_name, to); }};
            victim.wait();
            victim.kill_after(microseconds{0});
        });
    }
    int missing = 0;
    for (int i = 0; i < trials; ++i) {
        const TempFolder folder;
        const fs::path file = folder.path() / ledger_name;
        Victim victim{[&](int to) { store_for_ever(file, to); }};
        // It speaks once before the first run.
        const std::int64_t said =
            std::max<std::int64_t>(0, victim.kill_after(up_to(2 * start, random)) - 1);
        if (!fs::exists(file)) {
            ++missing;
            CHECK(said == 0);
            continue;
        }
        const ContentCheck check = check_content(file);
        INFO(to_text(check.report));
        CHECK(check.report.ok());
        CHECK(check.runs >= said);
        CHECK(check.runs <= said + 1);
    }
    MESSAGE(missing << " of " << trials << " kills came before there was a ledger");
}

TEST_CASE("`lagline rank --store` killed at random moments") {
    constexpr int trials = rounds(40);
    const StarterPlant plant;
    const Arguments rank{"rank", plant.path(), "--at", fixed_day, "--store"};
    const auto whole = time_of([&] { REQUIRE(run(rank).code == 0); });
    std::mt19937 random{3};
    std::int64_t stored = 1;
    int more = 0;
    for (int i = 0; i < trials; ++i) {
        Victim victim{[&](int) {
            std::vector<std::string> texts{"lagline"};
            texts.insert(texts.end(), rank.begin(), rank.end());
            std::vector<char*> argv;
            for (std::string& text : texts) argv.push_back(text.data());
            argv.push_back(nullptr);
            const int null = ::open("/dev/null", O_WRONLY);
            ::dup2(null, STDOUT_FILENO);
            ::dup2(null, STDERR_FILENO);
            ::execv(LAGLINE_PROGRAM, argv.data());
            ::_exit(1);
        }};
        victim.kill_after(whole / 3 + up_to(whole, random));
        const ContentCheck check = check_content(plant.file(ledger_name));
        INFO(to_text(check.report));
        REQUIRE(check.report.ok());
        CHECK(check.runs >= stored);
        CHECK(check.runs <= stored + 1);
        more += check.runs > stored ? 1 : 0;
        stored = check.runs;
    }
    MESSAGE(trials << " kills of the program, " << more << " of them after its run was stored");
    CHECK(run({"verify", plant.path()}).code == 0);
}

}  // namespace
}  // namespace lagline
