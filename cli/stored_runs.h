#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "cli/session.h"
#include "ledger/ledger.h"
#include "ledger/rerun.h"

namespace lagline::cli {

inline constexpr const char* rank_kind = "rank";
inline constexpr const char* plan_kind = "plan";

/// Whether a command stores what it made, and where.
struct StoreOptions {
    bool store = false;
    std::optional<std::string> ledger;
    [[nodiscard]] bool stores() const { return store || ledger; }
    [[nodiscard]] std::filesystem::path file(const std::string& plant_folder) const {
        return ledger_at(ledger.value_or(plant_folder));
    }
};
void add_store_options(Command& command, StoreOptions& options);

/// Which ledger, and which run of it.
struct LedgerOptions {
    std::string given;
    std::int64_t run = 0;
    [[nodiscard]] std::filesystem::path file() const { return ledger_at(given); }
};
void add_ledger_option(Command& command, LedgerOptions& options);
/// The argument RUN.
Option add_run_argument(Command& command, const std::string& name, std::int64_t& run,
                        const std::string& help);

/// Prints what is wrong with a ledger.  @return an ExitCode
[[nodiscard]] int tell(const LedgerFault& fault);

/// The time of the clock in UTC, "2030-04-08T09:30:00Z".
[[nodiscard]] std::string now_utc();

/// Makes a stored run again, whatever its kind: the kinds are listed here.
[[nodiscard]] RunOutcome run_stored(const RunInputs& inputs);

/// The order of a stored run alone, whatever its kind: a plan rests on one.
[[nodiscard]] RunOutcome order_stored(const RunInputs& inputs);

/// A stored plant, opened again.
struct StoredPlant {
    PlantOptions options;
    Opened opened;
    std::string problem;  ///< why it cannot be read; else empty
};
[[nodiscard]] StoredPlant open_stored(const RunInputs& inputs);

/// Ranking, assumptions and overrides, as files under results/.
[[nodiscard]] std::vector<StoredFile> rank_results(const Opened& opened,
                                                   const PlantOptions& options,
                                                   const Ranking& ranking);

/// What a run is made from: files of the plant, rules, options.
/// @param told  options besides those of every run
[[nodiscard]] NewRun inputs_as_run(const char* kind, const Opened& opened,
                                   const PlantOptions& options, RunOptions told);

/// Whether a run made a second time from its files alone gives these results.
struct MadeTwice {
    bool same = false;
    std::string problem;  ///< why it could not be made
};
[[nodiscard]] MadeTwice make_twice(const NewRun& run, const std::vector<StoredFile>& results);

/// The run with its results, which came out the same a second time.
/// @throws std::runtime_error  when they did not: a file was changed meanwhile
[[nodiscard]] NewRun with_results(NewRun run, std::vector<StoredFile> results,
                                  const std::string& folder);

/// A ranking as a run of the ledger: files of the plant, rules, options, results.  It has been made
/// a second time from these files alone, to the same bytes.
/// @param ranking  with its outlook for every rank
/// @throws std::runtime_error  when the second time came out otherwise: a file was changed
/// meanwhile
[[nodiscard]] NewRun rank_as_run(const Opened& opened, const PlantOptions& options,
                                 const Ranking& ranking);

/// Stores it and says so on standard error.  @return an ExitCode
[[nodiscard]] int store(NewRun run, const std::filesystem::path& ledger);

}  // namespace lagline::cli
