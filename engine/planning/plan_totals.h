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
    std::size_t scaffolds = 0;    ///< of groups
    std::array<std::size_t, work_actions> actions{};
};

struct PlanTotals {
    std::vector<WindowTotals> windows;
    double cost = 0.0;  ///< present value of all work
    double loss = 0.0;  ///< present value of leaks from today to the horizon
    std::size_t treated = 0;
    std::size_t late = 0;  ///< segments that a deadline asks for and that are not opened by then

    [[nodiscard]] double value() const { return cost + loss; }
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
