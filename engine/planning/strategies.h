#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "planning/actions.h"

namespace lagline {

/// One way through all windows for one segment: leave it, or one action in one window with what
/// may follow from it.
struct Strategy {
    bool acts = false;
    WorkAction action{};
    std::uint16_t window = 0;
    std::uint16_t follow_window = 0;
    std::uint8_t coating = no_coating_code;  ///< vocabulary coating_system, of what it coats with
    double money = 0.0;                      ///< in its window, prices of today
    double follow_money = 0.0;               ///< expected, in its follow window
    CraftHours hours{};
    CraftHours follow_hours{};
    double cost = 0.0;           ///< present value of the money, a shared scaffold apart
    double loss = 0.0;           ///< present value of leaks from today to the horizon
    double follow_chance = 0.0;  ///< that what is found calls for more than usual
    std::uint32_t cautions = 0;

    static constexpr std::uint8_t no_coating_code = 255;

    [[nodiscard]] double value() const { return cost + loss; }
    /// What is found is answered in a window of its own.
    [[nodiscard]] bool follows_later() const { return follow_window != window; }
    /// Expected money in a window, a shared scaffold apart, prices of today.
    [[nodiscard]] double money_in(std::size_t w) const;
    /// Expected craft hours in a window, likewise.
    [[nodiscard]] CraftHours hours_in(std::size_t w) const;
    /// Chance that it needs the scaffold of its group in a window: 1 in its own, that of more work
    /// in a follow window of its own.
    [[nodiscard]] double scaffold_in(std::size_t w) const;
    /// Steel is seen: what a criterion asks for.
    [[nodiscard]] bool opens() const { return acts && action != WorkAction::screen; }
};

/// The strategies of every segment of the futures: those of row i are [first[i], first[i + 1]), to
/// leave it the first, then by window and action.
struct Strategies {
    std::vector<std::uint32_t> first{0};
    std::vector<Strategy> all;

    [[nodiscard]] std::size_t rows() const { return first.size() - 1; }
    [[nodiscard]] std::span<const Strategy> of(std::size_t row) const {
        return std::span(all).subspan(first[row], first[row + 1] - first[row]);
    }
    [[nodiscard]] const Strategy& leave(std::size_t row) const { return all[first[row]]; }
};

/// Studies every action in every window on every segment.
[[nodiscard]] Strategies find_strategies(const Plant& plant, const RuleSet& rules,
                                         const Ranking& ranking, const Futures& futures,
                                         std::span<const PlanWindow> windows,
                                         const WorkPlan& plan = {});

}  // namespace lagline
