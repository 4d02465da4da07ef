#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "blocks/parallel.h"
#include "cli/command.h"
#include "diagnostics/diagnostic.h"
#include "intake/load_plant.h"
#include "intake/what_if.h"
#include "plant/plant.h"
#include "ranking/forecast.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline::cli {

/// What every command that reads a plant folder can be told.
struct PlantOptions {
    std::string folder;
    std::string rules = "extended";
    std::string rules_root;  ///< empty: where the shipped rule sets are
    std::string at;
    std::string today;  ///< empty: the day of the run
    unsigned threads = 0;
    std::size_t block_rows = 1024;
    bool piped = false;         ///< segments from standard input: --stdin
    bool ranked_today = false;  ///< read the plant as of today, whatever its windows
};
/// --rules, a shipped set or a folder.
void add_rules_option(Command& command, std::string& rules);
/// Whether a command can be told a date to rank at, or reads the plant as of today.
enum class RankedAt { asked, today };
void add_plant_options(Command& command, PlantOptions& options, RankedAt at = RankedAt::asked);

/// --format, one of `formats`.
void add_format_option(Command& command, std::string& format, const std::string& help,
                       const std::vector<std::string>& formats);
/// --out, a file instead of standard output, and --force.
Option add_out_option(Command& command, OutFile& out);

/// A plant and its rules as far as they could be read, and everything found on the way.
struct Opened {
    std::optional<RuleSet> rules;
    std::optional<Plant> plant;
    Report report;
    std::optional<PassedOver> passed_over = {};  ///< of a plant that is read in parts
    [[nodiscard]] bool ok() const { return rules && plant && report.ok(); }
};
[[nodiscard]] Opened open_plant(const PlantOptions& options);

/// The same for commands that need both: with errors, their report goes to standard error and
/// nothing comes back; with warnings, one line says so.
[[nodiscard]] std::optional<Opened> open_or_report(const PlantOptions& options);

/// A plant with the files it was read from, to be read again as of other days.
struct OpenedSources {
    RuleSet rules;
    PlantSources sources;
    Plant plant;
};
/// Nothing, and a report on standard error, when there are errors.
[[nodiscard]] std::optional<OpenedSources> open_sources(const PlantOptions& options);

/// The same plant with values on trial; nothing, and a report on standard error, when they do not
/// fit.
[[nodiscard]] std::optional<Opened> open_changed(const Opened& opened, const PlantOptions& options,
                                                 std::span<const TrialChange> changes);

/// Loads rules alone; errors go to standard error.
[[nodiscard]] std::optional<RuleSet> open_rules(const std::string& rules,
                                                const std::string& plant_folder);

/// Says on standard error why `segment` has no row in the ranking.  @return an ExitCode
[[nodiscard]] int refuse_segment(const Opened& opened, const Ranking& ranking,
                                 const std::string& segment);

/// Ranks with a progress bar.
[[nodiscard]] Ranking rank_opened(const Opened& opened, const PlantOptions& options);

/// The same with today's rank of every row and the due dates of the first `top` (0: of all).
[[nodiscard]] Ranking rank_with_outlook(const Opened& opened, const PlantOptions& options,
                                        std::size_t top);

/// The same where no rank behind the first `top` will be asked for (0: all may be).
[[nodiscard]] Ranking rank_first(const Opened& opened, const PlantOptions& options,
                                 std::size_t top);

/// The years ahead of some segments, with a progress bar.
[[nodiscard]] Forecast forecast_opened(const Opened& opened, const PlantOptions& options,
                                       std::span<const std::uint32_t> rows, int years);

/// Prints what is wrong, or worth a look, on standard error.
void print_report(const Report& report);

/// How the plant is to be read, without a progress bar.
[[nodiscard]] LoadOptions load_options(const PlantOptions& options);

/// How the commands cut up their work, without a progress bar.
[[nodiscard]] WorkPlan work_plan(const PlantOptions& options);

/// Folder of the shipped rule sets: $LAGLINE_RULES, else share/lagline/rules beside the program.
[[nodiscard]] std::filesystem::path rules_root();

/// Names of the rule sets in it, in order.
[[nodiscard]] std::vector<std::string> shipped_rule_sets();

}  // namespace lagline::cli
