#pragma once

#include <array>
#include <cstdint>
#include <span>

#include "blocks/column.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Effectiveness categories that tell something: all but the last of the vocabulary, which is
/// "none".
inline constexpr std::size_t telling_categories = 4;
inline constexpr std::size_t damage_states = 3;

/// Inspections of a segment by effectiveness.
using InspectionCounts = std::array<double, telling_categories>;

/// How many inspections of segment row `segment` up to and including `until` have each telling
/// effectiveness.
[[nodiscard]] InspectionCounts count_inspections(const Plant& plant, std::uint32_t segment,
                                                 Date until,
                                                 std::span<const std::uint8_t> effectiveness);

/// Probability of each damage state after the inspections (eq. 15 and 16): prior times the
/// conditional probability of what was found, once per inspection, scaled to a sum of 1.
/// Inspections that tell nothing leave the prior unchanged.
/// @param prior        by damage state, sum 1
/// @param conditional  grid effectiveness x damage state
/// @source API RP 581, 3rd edition, Part 2, Tables 4.5 and 4.6
[[nodiscard]] std::array<double, damage_states> updated_states(
    const std::array<double, damage_states>& prior, const GridTable& conditional,
    const InspectionCounts& counts);

}  // namespace lagline
