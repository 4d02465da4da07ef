#pragma once

#include <cstdint>
#include <optional>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Row of inspections.csv of the last inspection of the segment, from `from` to `at`, both
/// included, in which the cell `field` is filled; nothing when there is none.
[[nodiscard]] std::optional<std::uint32_t> last_saying(const Plant& plant, std::uint32_t segment,
                                                       InspectionField field, Date from, Date at);

/// The inspection that says last, up to `at`, whether the insulation is wet.
[[nodiscard]] std::optional<std::uint32_t> wetness_finding(const Plant& plant,
                                                           std::uint32_t segment, Date at);
/// True where that one found it wet.
[[nodiscard]] bool found_wet(const Plant& plant, std::uint32_t segment, Date at);

/// The inspection that says last, up to `at` and since the present insulation was installed, how
/// the jacket is.
[[nodiscard]] std::optional<std::uint32_t> jacket_finding(const Plant& plant, std::uint32_t segment,
                                                          Date at);

/// Condition of the insulation with what was found of its jacket (eq. 49): the worse of the
/// recorded one and the one that `of_damage` gives.  Vocabularies list the worst condition first.
/// @param of_damage  lookup by jacket_damage, gives insulation_condition
[[nodiscard]] std::uint8_t condition_with_findings(const Plant& plant, const LookupTable& of_damage,
                                                   std::uint32_t segment, Date at);

}  // namespace lagline
