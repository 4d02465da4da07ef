#pragma once

#include <array>
#include <cstdint>
#include <span>

#include "blocks/column.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Effectiveness categories that say something: all but the last of the vocabulary, which is
/// "ineffective".
inline constexpr std::size_t telling_categories = 4;
inline constexpr std::size_t damage_states = 3;

/// Inspections of a segment by effectiveness.
using InspectionCounts = std::array<double, telling_categories>;

/// How many inspections of segment row `segment` up to and including `until` have each telling
/// effectiveness.  Looks of one day by one technique are one inspection, the most effective of
/// them: a report in two rows is no second look.
[[nodiscard]] InspectionCounts count_inspections(const Plant& plant, std::uint32_t segment,
                                                 Date until,
                                                 std::span<const std::uint8_t> effectiveness);
/// The same of those from position `begin` of plant.inspection_order on.
[[nodiscard]] InspectionCounts count_inspections_from(std::uint32_t begin, const Plant& plant,
                                                      std::uint32_t segment, Date until,
                                                      std::span<const std::uint8_t> effectiveness);

/// True when the look in row `row` is the one of its day and technique that count_inspections()
/// counts; of equally effective ones it is the first in inspection_order.
[[nodiscard]] bool counts_for_its_day(const Plant& plant, std::uint32_t segment, std::uint32_t row,
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
