#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "likelihood/updating.h"
#include "ruleset/table.h"

namespace lagline {

/// A base damage factor and the column of the table that it stands in.
struct BaseDamage {
    double value = 0.0;
    std::uint8_t column = 0;
};

/// Columns of the table of base damage factors that a history asks for.
struct ColumnsTried {
    std::array<std::uint8_t, telling_categories + 1>
        columns{};  ///< the first is without inspection
    std::size_t count = 1;
    [[nodiscard]] std::span<const std::uint8_t> all() const { return {columns.data(), count}; }
};
[[nodiscard]] ColumnsTried columns_tried(const InspectionCounts& counts);

/// Base damage factor of cracking by severity and inspections (eq. 40): of the categories of
/// effectiveness, each with its own inspections and half of the next lower one's, the one that
/// gives most credit; six of a kind are the most that count.
/// @param table  grid severity_index x scc_inspections: none, then D, C, B, A once to six times
/// @source API RP 581, 3rd edition, Part 2, Table 6.3 and section 3.4.3 (recalled)
[[nodiscard]] BaseDamage base_damage_factor(const GridTable& table, std::uint8_t severity,
                                            const InspectionCounts& counts);

/// What makes a base damage factor the damage factor of a date.
struct CrackGrowth {
    double exponent = 0.0;      ///< of the years without inspection
    double cap = 0.0;           ///< greatest damage factor where no cracks are known
    double floor = 0.0;         ///< least damage factor: no steel is without any risk
    double known_factor = 0.0;  ///< for cracks that are known
};

/// Damage factor after `age_years` without inspection (eq. 41): base x max(age, 1)^exponent, at
/// most `cap`, times `known` (growth.known_factor where cracks are known, else 1), at least
/// `floor`.
/// @source API RP 581, 3rd edition, Part 2, section 18; floor and factor: the rule set
[[nodiscard]] double aged_damage_factor(double base, double age_years, double known,
                                        const CrackGrowth& growth);

}  // namespace lagline
