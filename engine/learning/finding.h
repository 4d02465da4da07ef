#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What makes the result of an inspection a finding.
struct FindingRules {
    const LookupTable* reading_accepted = nullptr;  ///< looked for loss of wall
    const LookupTable* crack_accepted = nullptr;    ///< looked for cracks
    double significant_loss = 0.0;                  ///< share of the nominal wall
};
[[nodiscard]] FindingRules finding_rules(const RuleSet& rules);

/// Every rule table that backtests and rate factors read.
[[nodiscard]] std::span<const TableNeed> learning_needs();

/// Wall at or below which a reading is a finding (eq. 70): nominal wall less the significant loss,
/// or the minimum thickness where that is more [mm].
[[nodiscard]] double finding_wall_mm(const FindingRules& rules, double nominal_mm,
                                     double minimum_mm);

/// What the first inspection that could tell found.
struct Outcome {
    Date day;
    std::uint32_t inspection = 0;  ///< row of inspections.csv
    bool found = false;
};

/// What looking for cracks or for loss of wall means.
struct Suspect {
    std::uint32_t segment = 0;  ///< row of segments.csv
    bool cracking = false;      ///< looked at for cracks, else for loss of wall
    double finding_wall_mm = 0.0;
};

/// The first inspection after day `after`, up to and including `until`, that could tell: its
/// effectiveness is accepted, and it read a wall (or said whether it found cracks).  Nothing when
/// there is none.  An inspection of which only the month or year is on record counts only when the
/// whole of it lies in the window.
/// @param effectiveness  for the mechanism looked for, by row of inspections.csv: see
///                       inspection_effectiveness() and crack_inspection_effectiveness()
[[nodiscard]] std::optional<Outcome> first_outcome(const Plant& plant, const FindingRules& rules,
                                                   std::span<const std::uint8_t> effectiveness,
                                                   const Suspect& suspect, Date after, Date until);

}  // namespace lagline
