#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "planning/take_off.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The prices of work in the plant's currency: those of plant.yaml, else those of the rules.
struct PlanRules {
    double screen_per_m = 0.0;
    double inspect_per_m = 0.0;
    double guard_per_m = 0.0;
    double strip_share = 0.0;  ///< of the cost of stripping and renewing
    double scaffold_each = 0.0;
    std::array<double, crafts> hour{};  ///< by craft
    double overtime_factor = 0.0;
    double overrun_charge = 0.0;               ///< money for each money beyond a limit
    std::optional<double> site_replace_per_m;  ///< of plant.yaml; stands before replace_cost
    const BandTable* replace_cost = nullptr;   ///< by nominal_size [USD a metre]
    double plant_per_usd = 1.0;
    double interval_years = 0.0;  ///< of a programme at a fixed interval, to compare with
    std::array<std::uint8_t, work_actions> effectiveness{};        ///< for loss of wall
    std::array<std::uint8_t, work_actions> crack_effectiveness{};  ///< for cracking
    std::array<bool, work_actions> on_stream{};
};
/// @throws std::out_of_range  when `rules` lack a table: see plan_needs()
[[nodiscard]] PlanRules plan_rules(const RuleSet& rules, const Plant& plant);

/// Every rule table that planning reads: prices, futures, recoat, take-off, cautions.
[[nodiscard]] std::vector<TableNeed> plan_needs();

/// Prices that planning takes from the rules for want of the site's own: keys of `unit_costs` and
/// `crew_rates` that plant.yaml could have.
[[nodiscard]] std::vector<std::string_view> prices_of_the_rules(const Plant& plant);

}  // namespace lagline
