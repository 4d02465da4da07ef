#pragma once

#include <cstdint>

#include "likelihood/updating.h"
#include "ruleset/table.h"

namespace lagline {

/// A base damage factor and the column of the table that it stands in.
struct BaseDamage {
    double value = 0.0;
    std::uint8_t column = 0;
};

/// Base damage factor of cracking by severity and inspections (eq. 40): of the categories of
/// effectiveness, each with its own inspections and half of the next lower one's, the one that
/// gives most credit; six of a kind are the most that count.
/// @param table  grid severity_index x scc_inspections: none, then D, C, B, A once to six times
/// @source API RP 581, 3rd edition, Part 2, Table 6.3 and section 3.4.3 (recalled)
[[nodiscard]] BaseDamage base_damage_factor(const GridTable& table, std::uint8_t severity,
                                            const InspectionCounts& counts);

/// Damage factor after `age_years` without inspection (eq. 41): base x max(age, 1)^exponent, at
/// most `cap`.
/// @source API RP 581, 3rd edition, Part 2, section 18
[[nodiscard]] double aged_damage_factor(double base, double age_years, double exponent, double cap);

}  // namespace lagline
