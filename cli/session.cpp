#include "cli/session.h"

#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/progress.h"
#include "degradation/readings.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/load_plant.h"
#include "learning/finding.h"
#include "planning/plan_rules.h"
#include "quantity/date.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr unsigned most_threads = 1024;

spdlog::logger& log() {
    static const auto logger = [] {
        auto made = spdlog::stderr_logger_mt("lagline");
        made->set_pattern("%n: %l: %v");
        return made;
    }();
    return *logger;
}

Date today() {
    const auto now = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
    return {static_cast<std::int32_t>(now.time_since_epoch().count())};
}

std::optional<fs::path> overlay_of(const std::string& plant_folder) {
    std::error_code ignored;
    const fs::path overlay = fs::path{plant_folder} / "rules";
    if (plant_folder.empty() || !fs::is_directory(overlay, ignored)) return std::nullopt;
    return overlay;
}

// What the steps after the ranking read.
std::vector<TableNeed> later_needs() {
    auto needs = plan_needs();
    const auto learning = learning_needs();
    needs.insert(needs.end(), learning.begin(), learning.end());
    return needs;
}

LoadedRules load_and_check(const std::string& rules, const std::string& plant_folder,
                           const fs::path& root = rules_root()) {
    LoadedRules loaded = load_rules(root, rules, overlay_of(plant_folder));
    if (!loaded.rules) return loaded;
    loaded.report.merge(check_rules(*loaded.rules, later_needs()));
    if (!loaded.report.ok()) loaded.rules.reset();
    return loaded;
}

}  // namespace

void add_rules_option(Command& command, std::string& rules) {
    command.files().reads_rules(rules);
    command.option("--rules", &rules, "Rule set: a shipped one, or a folder")
        .value_name("NAME|DIR")
        .shows_default();
}

void add_plant_options(Command& command, PlantOptions& options, RankedAt at) {
    command.option("plant", &options.folder, "Plant folder: plant.yaml, segments.csv, ...")
        .required()
        .value_name("DIR");
    command.files().reads_plant(options.folder);
    add_rules_option(command, options.rules);
    options.ranked_today = at == RankedAt::today;
    if (at == RankedAt::asked) {
        command.option("--at", &options.at, "Date to rank at; else the window after the next")
            .value_name("DATE")
            .day();
    }
    command.option("--today", &options.today, "Day that counts as today").value_name("DATE").day();
    command.option("--threads", &options.threads, "Threads to use; 0 for every core")
        .value_name("N")
        .count()
        .whole_between(0U, most_threads)
        .shows_default();
    command.option("--block", &options.block_rows, "Rows worked on at a time; changes no result")
        .value_name("ROWS")
        .count()
        .whole_between(1, 1'000'000'000)
        .shows_default();
}

void add_format_option(Command& command, std::string& format, const std::string& help,
                       const std::vector<std::string>& formats) {
    command.option("--format", &format, help).one_of(formats).shows_default();
}

Option add_out_option(Command& command, OutFile& out) {
    command.files().writes(out, out.force);
    Option option = command.option("--out", &out.file, "File to write, whole; never one it reads");
    option.value_name("FILE");
    command.flag("--force", out.force, "Replace a file that Lagline did not write");
    return option;
}

fs::path rules_root() {
    if (const char* set = std::getenv("LAGLINE_RULES"); set != nullptr && *set != '\0') return set;
    std::error_code ignored;
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    return program.parent_path().parent_path() / "share" / "lagline" / "rules";
}

std::vector<std::string> shipped_rule_sets() {
    std::vector<std::string> names;
    std::error_code ignored;
    for (const fs::directory_entry& each : fs::directory_iterator{rules_root(), ignored}) {
        if (fs::exists(each.path() / "ruleset.yaml", ignored)) {
            names.push_back(each.path().filename().string());
        }
    }
    std::ranges::sort(names);
    return names;
}

Opened open_plant(const PlantOptions& options) {
    Opened opened;
    const fs::path root = options.rules_root.empty() ? rules_root() : fs::path{options.rules_root};
    LoadedRules loaded = load_and_check(options.rules, options.folder, root);
    opened.report = std::move(loaded.report);
    opened.rules = std::move(loaded.rules);
    // With a faulty overlay the plant is still read, by the rules below it, so that all problems
    // are told at once.
    std::optional<RuleSet> fallback;
    if (!opened.rules) fallback = load_and_check(options.rules, "", root).rules;
    const std::optional<RuleSet>& rules = opened.rules ? opened.rules : fallback;
    if (!rules) return opened;
    Progress progress{"reading"};
    LoadOptions load = load_options(options);
    load.plan.counter = progress.counter();
    LoadedPlant plant = load_plant(options.folder, *rules, load);
    opened.report.merge(std::move(plant.report));
    if (plant.plant) report_conflicting_readings(*plant.plant, *rules, opened.report);
    opened.report.sort();
    opened.plant = std::move(plant.plant);
    opened.passed_over = plant.passed_over;
    return opened;
}

namespace {

void tell_passed_over(const Opened& opened) {
    if (!opened.passed_over) return;
    const auto& [inspections, overrides] = *opened.passed_over;
    if (inspections == 0 && overrides == 0) return;
    log().info(
        "passed over, since their segments are not in this part: {} rows of "
        "inspections.csv, {} of overrides.csv",
        inspections, overrides);
}

}  // namespace

std::optional<Opened> open_or_report(const PlantOptions& options) {
    Opened opened = open_plant(options);
    if (!opened.ok()) {
        print_report(opened.report);
        return std::nullopt;
    }
    if (opened.report.warnings() > 0) {
        log().warn("{} warnings about {}; `lagline check` {}shows them", opened.report.warnings(),
                   options.folder, options.piped ? "on a folder with these segments " : "");
    }
    tell_passed_over(opened);
    return opened;
}

std::optional<OpenedSources> open_sources(const PlantOptions& options) {
    auto opened = open_or_report(options);
    if (!opened) return std::nullopt;
    Report ignored;  // the same files have just been read without an error
    auto sources = read_plant_sources(options.folder, *opened->rules, ignored);
    if (!sources) return std::nullopt;
    return OpenedSources{std::move(*opened->rules), std::move(*sources), std::move(*opened->plant)};
}

std::optional<Opened> open_changed(const Opened& opened, const PlantOptions& options,
                                   std::span<const TrialChange> changes) {
    Report ignored;  // the same files have just been read without an error
    auto sources = read_plant_sources(options.folder, *opened.rules, ignored);
    if (!sources) return std::nullopt;
    Progress progress{"reading"};
    Report report;
    PlantSources changed = with_changes(std::move(*sources), *opened.plant, changes, report);
    LoadOptions load = load_options(options);
    load.plan.counter = progress.counter();
    LoadedPlant loaded = assemble_plant(std::move(changed), *opened.rules, load, std::move(report));
    if (!loaded.plant) {
        loaded.report.sort();
        print_report(loaded.report);
        return std::nullopt;
    }
    return Opened{opened.rules, std::move(loaded.plant), {}};
}

std::optional<RuleSet> open_rules(const std::string& rules, const std::string& plant_folder) {
    LoadedRules loaded = load_and_check(rules, plant_folder);
    if (!loaded.report.diagnostics().empty()) print_report(loaded.report);
    return std::move(loaded.rules);
}

Ranking rank_opened(const Opened& opened, const PlantOptions& options) {
    Progress progress{"ranking"};
    return rank(*opened.plant, *opened.rules,
                {options.block_rows, options.threads, progress.counter()});
}

Ranking rank_with_outlook(const Opened& opened, const PlantOptions& options, std::size_t top) {
    Progress progress{"ranking"};
    return rank_with_outlook(*opened.plant, *opened.rules, top,
                             {options.block_rows, options.threads, progress.counter()});
}

Ranking rank_first(const Opened& opened, const PlantOptions& options, std::size_t top) {
    Progress progress{"ranking"};
    return rank_first(*opened.plant, *opened.rules, top,
                      {options.block_rows, options.threads, progress.counter()});
}

Forecast forecast_opened(const Opened& opened, const PlantOptions& options,
                         std::span<const std::uint32_t> rows, int years) {
    Progress progress{"looking ahead"};
    return forecast(*opened.plant, *opened.rules, rows, years,
                    {options.block_rows, options.threads, progress.counter()});
}

int refuse_segment(const Opened& opened, const Ranking& ranking, const std::string& segment) {
    const auto names = opened.plant->segments.texts(SegmentField::segment);
    for (const NotRanked& left : ranking.not_ranked) {
        if (names[left.segment_row] != segment) continue;
        std::cerr << "lagline: segment " << printable(segment) << " is not ranked: " << left.reason
                  << "\n";
        return wrong_use;
    }
    const std::string meant = did_you_mean(segment, {names.data(), names.size()});
    std::cerr << "lagline: no segment '" << printable(segment) << "' in segments.csv"
              << (meant.empty() ? "" : "; " + meant) << "\n";
    return wrong_use;
}

void print_report(const Report& report) {
    const TextStyle style = error_style();
    std::cerr << to_text(report, {.width = style.width, .colour = style.colour});
}

LoadOptions load_options(const PlantOptions& options) {
    LoadOptions load;
    if (!options.at.empty()) load.at = parse_date(options.at).value().date;
    load.today = options.today.empty() ? today() : parse_date(options.today).value().date;
    if (options.piped) load.segments_from = STDIN_FILENO;
    if (options.ranked_today) load.at = load.today;
    load.plan = work_plan(options);
    return load;
}

WorkPlan work_plan(const PlantOptions& options) {
    return {options.block_rows, options.threads, nullptr};
}

}  // namespace lagline::cli
