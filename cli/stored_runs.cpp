#include "cli/stored_runs.h"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <iostream>
#include <stdexcept>

#include "cli/app.h"
#include "cli/output.h"
#include "intake/gaps.h"
#include "report/ranking_csv.h"
#include "report/register_csv.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* rank_kind = "rank";

std::vector<StoredFile> rank_results(const Opened& opened, const PlantOptions& options,
                                     const Ranking& ranking) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    return {{"results/ranking.csv", ranking_csv(plant, rules, ranking, 0, work_plan(options))},
            {"results/assumptions.csv", assumptions_csv(find_gaps(plant, rules, fields_read(rules)),
                                                        margin_gaps(plant, rules))},
            {"results/overrides.csv", overrides_csv(plant)}};
}

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

RunOutcome rank_stored(const RunInputs& inputs) {
    PlantOptions options;
    options.folder = inputs.plant.string();
    options.rules = option(inputs.options, "rules");
    options.rules_root = inputs.rules.string();
    options.at = option(inputs.options, "at");
    options.today = option(inputs.options, "today");
    const Opened opened = open_plant(options);
    if (!opened.ok()) return {{}, first_error(opened.report, inputs)};
    return {rank_results(opened, options, rank_with_outlook(opened, options, 0)), {}};
}

bool same_results(std::vector<StoredFile> a, std::vector<StoredFile> b) {
    std::ranges::sort(a, {}, &StoredFile::path);
    std::ranges::sort(b, {}, &StoredFile::path);
    return a == b;
}

}  // namespace

void add_ledger_option(Command& command, LedgerOptions& options) {
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
    if (inputs.kind == rank_kind) return rank_stored(inputs);
    return {{}, "a run of a kind that this version does not know: " + inputs.kind};
}

NewRun rank_as_run(const Opened& opened, const PlantOptions& options, const Ranking& ranking) {
    InputSnapshot snapshot = snapshot_of(options.folder, *opened.rules);
    RunOptions told{{"rules", snapshot.rule_set}, {"today", to_string(opened.plant->today)}};
    if (!options.at.empty()) told["at"] = options.at;
    NewRun run{rank_kind, LAGLINE_VERSION, std::move(snapshot.files)};
    run.files.push_back({std::string{options_path}, canonical_json(told)});
    std::vector<StoredFile> results = rank_results(opened, options, ranking);
    const RunOutcome again = run_again(run.kind, run.files, run_stored);
    if (!again.problem.empty() || !same_results(again.results, results)) {
        throw std::runtime_error(
            "the files of " + options.folder + " do not give the same result a second time" +
            (again.problem.empty() ? "" : " (" + again.problem + ")") +
            "; were they changed meanwhile? Nothing was stored; run the command again");
    }
    std::ranges::move(results, std::back_inserter(run.files));
    return run;
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
