// compare_runs() on a method of a few lines, whose causes are known by construction.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "ledger/compare.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

using Scores = std::map<std::string, double>;

Scores scores_in(const std::filesystem::path& file) {
    Scores scores;
    std::error_code none;
    if (!std::filesystem::exists(file, none)) return scores;
    std::istringstream lines{file_text(file.string())};
    for (std::string name, score; std::getline(lines, name, ',') && std::getline(lines, score);) {
        scores[name] = std::stod(score);
    }
    return scores;
}

std::string order_by(const Scores& scores) {
    std::vector<std::pair<double, std::string>> order;
    for (const auto& [name, score] : scores) order.emplace_back(-score, name);
    std::ranges::sort(order);
    std::string csv = "rank,segment\n";
    for (std::size_t i = 0; i < order.size(); ++i) {
        csv += std::to_string(i + 1) + "," + order[i].second + "\n";
    }
    return csv;
}

// score = data x factor of the rules; an override stands in its place; "at" adds to names with T,
// the version to names with E.
RunOutcome toy(const RunInputs& inputs, double of_version) {
    Scores scores = scores_in(inputs.plant / "segments.csv");
    const Scores factors = scores_in(inputs.rules / "set" / "factors.yaml");
    const double time = std::stod(option(inputs.options, "at"));
    for (auto& [name, score] : scores) {
        if (factors.contains(name)) score *= factors.at(name);
        if (name.starts_with('T')) score += time;
        if (name.starts_with('E')) score += of_version;
    }
    for (const auto& [name, score] : scores_in(inputs.plant / "overrides.csv")) {
        if (!scores.contains(name)) return {{}, "an override of no segment: " + name};
        scores[name] = score;
    }
    return {{{"results/ranking.csv", order_by(scores)}}, {}};
}

struct ToyRun {
    std::string data, rules, overrides, at = "0";
    double version = 0.0;
};

void store_toy(Ledger& ledger, const ToyRun& toy_run) {
    NewRun run{"toy", "0." + std::to_string(static_cast<int>(toy_run.version)), {}};
    run.files.push_back({"options.json", canonical_json({{"at", toy_run.at}})});
    run.files.push_back({"plant/segments.csv", toy_run.data});
    run.files.push_back({"rules/set/factors.yaml", toy_run.rules});
    if (!toy_run.overrides.empty()) {
        run.files.push_back({"plant/overrides.csv", toy_run.overrides});
    }
    const RunOutcome made =
        run_again("toy", run.files, [&](const RunInputs& in) { return toy(in, toy_run.version); });
    REQUIRE(made.problem.empty());
    run.files.push_back(made.results.front());
    ledger.store(std::move(run), some_time);
}

// Both runs are made again by an engine of version 0.
Comparison compared(const ToyRun& a, const ToyRun& b) {
    const TempFolder folder;
    Ledger ledger = Ledger::to_write(folder.path() / ledger_name);
    store_toy(ledger, a);
    store_toy(ledger, b);
    return compare_runs(ledger, 1, 2, "0.0", [](const RunInputs& in) { return toy(in, 0.0); });
}

const RankChange& change_of(const Comparison& comparison, std::string_view segment) {
    const auto found = std::ranges::find(comparison.changes, segment, &RankChange::segment);
    REQUIRE(found != comparison.changes.end());
    return *found;
}

std::int64_t places(const RankChange& change, Cause cause) {
    return change.places.at(static_cast<std::size_t>(cause));
}

const ToyRun base{"A,50\nB,40\nC,30\nD,20\nE,15\nT,10\nX,4\n", "A,1\n", "", "0"};

void check_adds_up(const Comparison& comparison) {
    for (const RankChange& change : comparison.changes) {
        if (!change.from || !change.to) continue;
        std::int64_t sum = change.interaction;
        for (const std::int64_t each : change.places) sum += each;
        CHECK(sum == *change.to - *change.from);
    }
}

TEST_CASE("one change of each kind is attributed to its cause, with nothing left over") {
    ToyRun data = base;
    data.data = "A,50\nB,40\nC,30\nD,60\nE,15\nT,10\nX,4\n";
    ToyRun rules = base;
    rules.rules = "A,1\nD,3\n";
    ToyRun overrides = base;
    overrides.overrides = "D,60\n";
    ToyRun time = base;
    time.at = "50";
    ToyRun engine = base;
    engine.version = 50.0;
    for (const auto& [cause, run, segment] :
         {std::tuple{Cause::data, data, "D"}, std::tuple{Cause::rules, rules, "D"},
          std::tuple{Cause::overrides, overrides, "D"}, std::tuple{Cause::time, time, "T"},
          std::tuple{Cause::engine, engine, "E"}}) {
        CAPTURE(to_string(cause));
        const Comparison comparison = compared(base, run);
        CHECK(comparison.problem.empty());
        REQUIRE(comparison.causes.size() == 1);
        CHECK(comparison.causes.front().cause == cause);
        CHECK(comparison.causes.front().moved == comparison.changes.size());
        CHECK(change_of(comparison, segment).to == 1);
        for (const RankChange& change : comparison.changes) {
            CHECK(change.main_cause() == cause);
            CHECK(change.interaction == 0);
        }
        check_adds_up(comparison);
        // And back again: the same places the other way.
        const Comparison back = compared(run, base);
        CHECK(change_of(back, segment).main_cause() == cause);
        CHECK(change_of(back, segment).interaction == 0);
    }
}

TEST_CASE("the same run twice: nothing differs") {
    const Comparison comparison = compared(base, base);
    CHECK(comparison.changes.empty());
    CHECK(comparison.inputs.empty());
    CHECK(comparison.causes.empty());
    CHECK(comparison.segments == 7);
}

TEST_CASE("what two changes do only together is interaction") {
    // X from 4: twice in the data is 8, three times in the rules is 12; both is 24.
    ToyRun both = base;
    both.data = "A,50\nB,40\nC,30\nD,20\nE,15\nT,10\nX,8\n";
    both.rules = "A,1\nX,3\n";
    const Comparison comparison = compared(base, both);
    const RankChange& x = change_of(comparison, "X");
    CHECK(x.from == 7);
    CHECK(x.to == 4);
    CHECK(places(x, Cause::data) == 0);    // 8 is still the least
    CHECK(places(x, Cause::rules) == -1);  // 12 goes before T with 10
    CHECK(x.interaction == -2);
    CHECK_FALSE(x.main_cause().has_value());
    check_adds_up(comparison);
}

TEST_CASE("changes that cancel leave no change, and are counted where they are tried") {
    ToyRun other = base;
    other.data = "A,50\nB,40\nC,30\nD,60\nE,15\nT,10\nX,4\n";
    other.overrides = "D,20\n";
    const Comparison comparison = compared(base, other);
    CHECK(comparison.changes.empty());
    REQUIRE(comparison.causes.size() == 2);
    CHECK(comparison.causes.front().moved == 4);
    CHECK(comparison.causes.back().moved == 0);
}

TEST_CASE("segments that come and go have the cause that brings them") {
    ToyRun other = base;
    other.data = "A,50\nB,40\nC,30\nD,20\nE,15\nT,10\nN,60\n";
    const Comparison comparison = compared(base, other);
    const RankChange& came = change_of(comparison, "N");
    CHECK_FALSE(came.from);
    CHECK(came.to == 1);
    CHECK(came.main_cause() == Cause::data);
    const RankChange& went = change_of(comparison, "X");
    CHECK_FALSE(went.to);
    CHECK(went.main_cause() == Cause::data);
    CHECK(places(change_of(comparison, "A"), Cause::data) == 1);
}

TEST_CASE("a change that cannot stand alone is told, and counts as interaction") {
    ToyRun other = base;
    other.data = "A,50\nB,40\nC,30\nD,20\nE,15\nT,10\nX,4\nN,1\n";
    other.overrides = "N,60\n";
    const Comparison comparison = compared(base, other);
    REQUIRE(comparison.causes.size() == 2);
    CHECK(comparison.causes.back().cause == Cause::overrides);
    CHECK(comparison.causes.back().problem == "an override of no segment: N");
    CHECK(change_of(comparison, "A").interaction == 1);
}

TEST_CASE("a run that this engine cannot make again leaves nothing attributed, and says so") {
    const TempFolder folder;
    Ledger ledger = Ledger::to_write(folder.path() / ledger_name);
    store_toy(ledger, base);
    ToyRun other = base;
    other.at = "50";
    store_toy(ledger, other);
    const Comparison comparison = compare_runs(ledger, 1, 2, "9.9", [](const RunInputs&) {
        return RunOutcome{{}, "too old"};
    });
    CHECK(comparison.problem == "run 1 (A) cannot be made again: too old");
    CHECK(comparison.causes.empty());
    CHECK_FALSE(comparison.changes.empty());
    for (const RankChange& change : comparison.changes) CHECK_FALSE(change.main_cause());
}

TEST_CASE("files and options that differ are listed with their lines") {
    ToyRun other = base;
    other.data = "A,50\nB,41\nC,31\nD,20\nE,15\nT,10\nX,4\n";
    other.overrides = "D,60\n";
    other.at = "7";
    const Comparison comparison = compared(base, other);
    REQUIRE(comparison.inputs.size() == 3);
    CHECK(comparison.inputs[0].what == "plant/segments.csv");
    CHECK(comparison.inputs[0].lines == LineChange{2, {"B,40", "C,30"}, {"B,41", "C,31"}});
    CHECK(comparison.inputs[1].what == "plant/overrides.csv");
    CHECK(comparison.inputs[1].after == "added");
    CHECK(comparison.inputs[2].what == "at");
    CHECK(comparison.inputs[2].before == "0");
    CHECK(comparison.inputs[2].after == "7");
}

TEST_CASE("line_change finds the lines between the first and the last difference") {
    CHECK(line_change("a\nb\nc\n", "a\nx\nc\n") == LineChange{2, {"b"}, {"x"}});
    CHECK(line_change("a\nc\n", "a\nb\nc\n") == LineChange{2, {}, {"b"}});
    CHECK(line_change("", "a\n") == LineChange{1, {}, {"a"}});
    CHECK(line_change("a\na\n", "a\n") == LineChange{2, {"a"}, {}});
}

}  // namespace
}  // namespace lagline
