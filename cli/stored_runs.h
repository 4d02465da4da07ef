#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "cli/session.h"
#include "ledger/ledger.h"
#include "ledger/rerun.h"

namespace lagline::cli {

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
