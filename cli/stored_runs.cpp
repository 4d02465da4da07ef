#include "cli/stored_runs.h"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <iostream>
#include <stdexcept>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/stored_plans.h"
#include "intake/gaps.h"
#include "report/ranking_csv.h"
#include "report/register_csv.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

// The first error in one line, without the folder that was made for this run alone.
std::string first_error(const Report& report, const RunInputs& inputs) {
    const std::string scratch = inputs.plant.parent_path().string() + "/";
    for (const Diagnostic& each : report.diagnostics()) {
        if (each.severity != Severity::error) continue;
        std::string text = to_string(each.where) + ": " + each.found;
        if (const auto at = text.find(scratch); at != text.npos) text.erase(at, scratch.size());
        return text;
    }
    return "the plant cannot be read";
}

bool same_results(std::vector<StoredFile> a, std::vector<StoredFile> b) {
    std::ranges::sort(a, {}, &StoredFile::path);
    std::ranges::sort(b, {}, &StoredFile::path);
    return a == b;
}

}  // namespace

std::vector<StoredFile> rank_results(const Opened& opened, const PlantOptions& options,
                                     const Ranking& ranking) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    return {{"results/ranking.csv", ranking_csv(plant, rules, ranking, 0, work_plan(options))},
            {"results/assumptions.csv", assumptions_csv(find_gaps(plant, rules, fields_read(rules)),
                                                        margin_gaps(plant, rules))},
            {"results/overrides.csv", overrides_csv(plant)}};
}

StoredPlant open_stored(const RunInputs& inputs) {
    StoredPlant stored;
    stored.options.folder = inputs.plant.string();
    stored.options.rules = option(inputs.options, "rules");
    stored.options.rules_root = inputs.rules.string();
    stored.options.at = option(inputs.options, "at");
    stored.options.today = option(inputs.options, "today");
    stored.opened = open_plant(stored.options);
    if (!stored.opened.ok()) stored.problem = first_error(stored.opened.report, inputs);
    return stored;
}

RunOutcome order_stored(const RunInputs& inputs) {
    const StoredPlant stored = open_stored(inputs);
    if (!stored.problem.empty()) return {{}, stored.problem};
    return {rank_results(stored.opened, stored.options,
                         rank_with_outlook(stored.opened, stored.options, 0)),
            {}};
}

void add_store_options(Command& command, StoreOptions& options) {
    command.flag("--store", options.store, "Store the run in lagline.db of the folder");
    command.files().adds_to_ledger(options.ledger);
    command.option("--ledger", &options.ledger, "Store it in another ledger").value_name("FILE");
}

void add_ledger_option(Command& command, LedgerOptions& options) {
    command.files().reads_ledger(options.given);
    command.option("ledger", &options.given, "Plant folder with its lagline.db, or the file")
        .required()
        .value_name("DIR|FILE");
}

Option add_run_argument(Command& command, const std::string& name, std::int64_t& run,
                        const std::string& help) {
    return command.option(name, &run, help).count().value_name("RUN");
}

int tell(const LedgerFault& fault) {
    Report report;
    report.add(fault.diagnostic());
    const TextStyle style = error_style();
    std::cerr << to_text(report, {.width = style.width, .colour = style.colour});
    return fault.ledger_is_bad() ? bad_input : failed;
}

std::string now_utc() {
    const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm utc{};
    ::gmtime_r(&now, &utc);
    std::string text(sizeof "2030-04-08T09:30:00Z", '\0');
    text.resize(std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &utc));
    return text;
}

RunOutcome run_stored(const RunInputs& inputs) {
    if (inputs.kind == rank_kind) return order_stored(inputs);
    if (inputs.kind == plan_kind) return plan_stored(inputs);
    return {{}, "a run of a kind that this version does not know: " + inputs.kind};
}

NewRun inputs_as_run(const char* kind, const Opened& opened, const PlantOptions& options,
                     RunOptions told) {
    InputSnapshot snapshot = snapshot_of(options.folder, *opened.rules);
    told["rules"] = snapshot.rule_set;
    told["today"] = to_string(opened.plant->today);
    if (!options.at.empty()) told["at"] = options.at;
    NewRun run{kind, LAGLINE_VERSION, std::move(snapshot.files)};
    run.files.push_back({std::string{options_path}, canonical_json(told)});
    return run;
}

MadeTwice make_twice(const NewRun& run, const std::vector<StoredFile>& results) {
    const RunOutcome again = run_again(run.kind, run.files, run_stored);
    return {again.problem.empty() && same_results(again.results, results), again.problem};
}

NewRun with_results(NewRun run, std::vector<StoredFile> results, const std::string& folder) {
    const MadeTwice twice = make_twice(run, results);
    if (!twice.same) {
        throw std::runtime_error(
            "the files of " + folder + " do not give the same result a second time" +
            (twice.problem.empty() ? "" : " (" + twice.problem + ")") +
            "; were they changed meanwhile? Nothing was stored; run the command again");
    }
    std::ranges::move(results, std::back_inserter(run.files));
    return run;
}

NewRun rank_as_run(const Opened& opened, const PlantOptions& options, const Ranking& ranking) {
    return with_results(inputs_as_run(rank_kind, opened, options, {}),
                        rank_results(opened, options, ranking), options.folder);
}

int store(NewRun run, const fs::path& ledger) {
    try {
        const RunEntry stored = Ledger::to_write(ledger).store(std::move(run), now_utc());
        std::cerr << "lagline: stored as run " << stored.number << " in " << ledger.string()
                  << "\nlagline: digest " << stored.chain.digest << "\n";
        return done;
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace lagline::cli
