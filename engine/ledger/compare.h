#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/ledger.h"
#include "ledger/line_changes.h"
#include "ledger/rerun.h"

namespace lagline {

/// What can make two runs of one plant differ.
enum class Cause : std::uint8_t { data, rules, overrides, options, time, engine };
inline constexpr std::array<Cause, 6> all_causes{Cause::data,    Cause::rules, Cause::overrides,
                                                 Cause::options, Cause::time,  Cause::engine};
/// "data", "rules", "override", "options", "time", "engine version".
[[nodiscard]] std::string_view to_string(Cause cause);

/// Which cause a file of a run counts as: overrides.csv, plant/rules/ and rules/, all else of
/// plant/.  Nothing for results.
[[nodiscard]] std::optional<Cause> cause_of_file(std::string_view path);

/// A file or an option that is not the same in both runs.
struct InputChange {
    Cause cause{};
    std::string what;    ///< path of the file, or name of the option
    std::string before;  ///< of an option; of a file only "" or what is said of it
    std::string after;
    std::optional<LineChange> lines;  ///< of a text that both have
};

/// A cause that is there, and what came of putting it alone on the earlier run.
struct CauseTried {
    Cause cause{};
    std::string problem;    ///< why the run could not be made so; else empty
    std::size_t moved = 0;  ///< segments whose rank it changes
};

/// A segment whose rank is not the same in both runs.
struct RankChange {
    std::string segment;
    std::optional<std::int64_t> from;  ///< rank in A; nothing when it is not ranked there
    std::optional<std::int64_t> to;    ///< rank in B
    /// Places by each single change, by position of the cause; negative is towards rank 1.  0 where
    /// the segment is missing on one side.
    std::array<std::int64_t, all_causes.size()> places{};
    /// The single changes that by themselves make a segment come or go.
    std::array<bool, all_causes.size()> comes_or_goes{};
    /// What the single changes do not add up to.
    std::int64_t interaction = 0;
    /// The cause that moves it most; nothing when that is the interaction.
    [[nodiscard]] std::optional<Cause> main_cause() const;
};

/// What changed between two runs, and why.
struct Comparison {
    RunEntry a;
    RunEntry b;
    std::string this_version;
    std::vector<InputChange> inputs;
    std::vector<CauseTried> causes;   ///< those that differ, in order of all_causes
    std::string problem;              ///< why nothing could be attributed; else empty
    std::vector<RankChange> changes;  ///< by size of the change, the greatest first
    std::size_t segments = 0;         ///< in either run
};

/// Compares two runs that hold an order (results/ranking.csv).  For every cause that differs, A is
/// made again with this one change taken from B; the effect of a cause on a segment is the change
/// of its rank by that.  What the engine's version does is read off A and B themselves: each made
/// again by this engine, against what was stored.
/// @param this_version  of the engine that makes the runs again
/// @throws LedgerFault  when the ledger is damaged, or a run holds no order
[[nodiscard]] Comparison compare_runs(const Ledger& ledger, std::int64_t a, std::int64_t b,
                                      const std::string& this_version, const Rerun& rerun);

}  // namespace lagline
