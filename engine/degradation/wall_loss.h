#pragma once

#include <cstdint>
#include <span>

#include "blocks/column.h"
#include "exposure/service_cycle.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Base corrosion rate under insulation over the service levels (eq. 2): the sum over the levels of
/// share x rate at the level.  One level of share 1 is the rate at that temperature, unchanged.
/// @param table   curves by driver over metal temperature
/// @param levels  of each of the N rows
/// @param driver  codes of the driver, N rows
/// @param[out] rate_mm_per_year  base rate [mm/y], N rows
/// @param[out] outside  set to 1 where a level lies outside the validity of the table
/// @source API RP 581, 3rd edition, Part 2, Table 16.2
void base_rate(const CurveTable& table, std::span<const ServiceLevels> levels,
               std::span<const std::uint8_t> driver, Column rate_mm_per_year,
               std::span<std::uint8_t> outside);

/// The same with the driver as a number: between two words the rate lies between their curves.
/// @param driver_level  0 for the first word of the vocabulary, N rows
void base_rate_at_level(const CurveTable& table, std::span<const ServiceLevels> levels,
                        ConstColumn driver_level, Column rate_mm_per_year,
                        std::span<std::uint8_t> outside);

/// Factor of a lookup table for each code.  N rows.
void factor(const LookupTable& table, std::span<const std::uint8_t> by,
            std::span<const std::uint32_t> rows, Column factors);

/// Corrosion rate under insulation (eq. 3): base rate times insulation, complexity and condition
/// factors, times the larger of pooling and interface factor, times the site's own factor.
/// N rows; rates in mm/y, factors pure numbers.
/// @source API RP 581, 3rd edition, Part 2, section 16
void corrosion_rate(ConstColumn base_mm_per_year, ConstColumn insulation, ConstColumn complexity,
                    ConstColumn condition, ConstColumn pooling, ConstColumn interface_factor,
                    ConstColumn site, Column rate_mm_per_year);

}  // namespace lagline
