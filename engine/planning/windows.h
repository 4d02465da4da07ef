#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "planning/recoat.h"
#include "planning/take_off.h"
#include "plant/plant.h"

namespace lagline {

/// A time in which work can be done: a row of turnarounds.csv that has not ended.
struct PlanWindow {
    std::string name;
    WorkState state{};
    Date start;
    Date end;
    double at_years = 0.0;  ///< from today to its start, at least 0
    std::uint16_t months = 0;
    double budget = std::numeric_limits<double>::infinity();  ///< plant currency; endless: no limit
    std::array<double, crafts> hours{};                       ///< by craft; endless: no limit
};

/// A budget that stands in place of that of turnarounds.csv.
struct BudgetChange {
    std::string window;
    double amount = 0.0;
};

/// Windows that end on or after today and start within the horizon, by start.
/// @param budgets  their windows must exist; see unknown_windows()
[[nodiscard]] std::vector<PlanWindow> plan_windows(const Plant& plant, int horizon_years,
                                                   std::span<const BudgetChange> budgets = {});

/// Names in `budgets` that no window to come has.
[[nodiscard]] std::vector<std::string> unknown_windows(std::span<const PlanWindow> windows,
                                                       std::span<const BudgetChange> budgets);

}  // namespace lagline
