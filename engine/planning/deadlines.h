#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planning/strategies.h"
#include "planning/windows.h"
#include "ranking/ranking.h"

namespace lagline {

/// Until when a segment must have been opened.
struct Deadline {
    std::optional<Date> due;  ///< first criterion reached if nothing is done
    Criterion criterion{};    ///< of `due`
    /// Last window before its day: a later one, or none, would come after a criterion is crossed.
    /// Nothing where it can wait, or is not due.
    std::optional<std::size_t> window;
    bool can_be_met = true;  ///< false: nothing that opens it can be had by then
};

/// The deadlines of the rows of the futures.  A segment that is due before the window after the
/// next chance must be opened in that chance at the latest; one that is due before the first
/// window must be opened in the first.  After the last window the next is taken to come after the
/// mean time between windows.
/// @param ranking  with the outlook of all its rows
/// @source docs/planning.md, "What must be done"
[[nodiscard]] std::vector<Deadline> find_deadlines(const Ranking& ranking, const Futures& futures,
                                                   std::span<const PlanWindow> windows,
                                                   const Strategies& strategies);

/// The day from which work after the last window is taken to be possible; nothing with no window.
[[nodiscard]] std::optional<Date> next_chance_after(std::span<const PlanWindow> windows);

}  // namespace lagline
