#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "ruleset/ruleset.h"

namespace lagline {

/// What no pipe can be, and what hardly any is, taken out of the rule set once.
struct Limits {
    const LookupTable* metal_degc_most = nullptr;  ///< by material [degC]
    double wall_over_schedule_most = 0.0;          ///< of the heaviest schedule of the size
    double diameter_deviation_flagged = 0.0;       ///< share of the diameter of the size
    double diameter_deviation_most = 0.0;          ///< the same
    double pit_over_wall_most = 0.0;               ///< of the nominal wall
    double wall_over_nominal_flagged = 0.0;        ///< of the nominal wall
    double before_service_flagged_years = 0.0;     ///< coating or insulation before the pipe
    double before_service_most_years = 0.0;        ///< the same
    std::optional<std::uint8_t> cyclic;            ///< code of the service
    /// Ends of a cycle further apart than this make a line without a service cyclic [K].
    std::optional<double> implied_cycle_step_k;
    bool service_cycle = false;  ///< the rules use the ends of a cycle
};

/// Tables that limits_of() reads.
[[nodiscard]] std::span<const TableNeed> limit_needs();

/// @throws std::out_of_range when `rules` lacks one of limit_needs()
[[nodiscard]] Limits limits_of(const RuleSet& rules);

}  // namespace lagline
