#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "planning/access_groups.h"
#include "planning/deadlines.h"
#include "planning/strategies.h"

namespace lagline {

/// What a choice of strategies spends and leaves, in one window.
struct WindowTotals {
    double money = 0.0;  ///< expected, prices of today, scaffolds included
    CraftHours hours{};
    double scaffold_money = 0.0;  ///< of groups, part of `money`
    std::size_t scaffolds = 0;    ///< of groups, those that may be needed included
    std::array<std::size_t, work_actions> actions{};
};

/// The scaffold of a group in a window.
struct ScaffoldUse {
    std::size_t window = 0;
    std::uint32_t group = 0;
    double needed = 0.0;  ///< sum of the chances of those that need it
    double share = 0.0;   ///< of it that is counted: `needed`, at most 1
    double money = 0.0;   ///< share x the scaffold, prices of today
    double hours = 0.0;   ///< of scaffolders, likewise
};

struct PlanTotals {
    std::vector<WindowTotals> windows;
    std::vector<ScaffoldUse> scaffolds;  ///< by window and group
    double cost = 0.0;                   ///< present value of all work
    double loss = 0.0;                   ///< present value of leaks from today to the horizon
    std::size_t treated = 0;
    std::size_t late = 0;  ///< segments that a deadline asks for and that are not opened by then

    /// Money counted for what goes beyond the limits where the compulsory work does not fit.
    double overrun_charge = 0.0;

    /// Work, leaks and what is counted for overruns.
    [[nodiscard]] double value() const { return cost + loss + overrun_charge; }
    /// The scaffold of a group in a window; nothing where none is counted.
    [[nodiscard]] const ScaffoldUse* scaffold(std::size_t window, std::uint32_t group) const;
    [[nodiscard]] double spent() const;
};

/// Adds up a choice from the strategies alone: neither solver nor problem has a part in it.
/// @param choice  position in Strategies::all, by row of the futures
[[nodiscard]] PlanTotals totals_of(const Strategies& strategies, const AccessGroups& groups,
                                   std::span<const PlanWindow> windows,
                                   std::span<const Deadline> deadlines, const Horizon& horizon,
                                   std::span<const std::uint32_t> choice);

/// Limits of windows that `totals` go beyond, with what is missing.
struct Overrun {
    std::size_t window = 0;
    std::optional<Craft> craft;  ///< nothing: the budget
    double by = 0.0;
};
[[nodiscard]] std::vector<Overrun> overruns(const PlanTotals& totals,
                                            std::span<const PlanWindow> windows);

}  // namespace lagline
