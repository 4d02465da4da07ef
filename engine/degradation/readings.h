#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A wall that an inspection found.
struct Reading {
    std::uint32_t row = 0;  ///< of inspections.csv
    Date day;
    double wall_mm = 0.0;
    double share = 1.0;  ///< of the suspect surface that was looked at
    std::uint8_t technique = 0;
    std::uint8_t effectiveness = 0;
    bool accepted = false;   ///< by the effectiveness
    bool conflicts = false;  ///< greater than the wall found before, beyond the tolerance (eq. 48)
    bool set_aside = false;  ///< not used because it conflicts
    double before_mm = 0.0;  ///< of a conflict: the wall found before it
    bool counts = false;     ///< became the known wall; see read_history()
};

/// What makes a reading count, a rate and a conflict.
struct ReadingRules {
    const LookupTable* accepted = nullptr;   ///< by effectiveness
    const LookupTable* tolerance = nullptr;  ///< by technique [mm]
    bool keeps_smaller = false;              ///< growing_reading: keep, else use
    double least_interval_years = 0.0;       ///< between two walls that make a rate
};
/// Wall that inspection row `row` of segment row `segment` read: the least thickness, else the
/// nominal wall less the pit depth, else nothing [mm].
[[nodiscard]] std::optional<double> wall_read_mm(const Plant& plant, std::uint32_t segment,
                                                 std::uint32_t row);

[[nodiscard]] ReadingRules reading_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> reading_needs();

/// The readings of segment row `segment` up to and including `until`, by date and of one day the
/// thinner last, into `readings`, which is emptied first.  A reading is the least thickness, else
/// the nominal wall less the pit depth.
///
/// An accepted reading that is greater than the wall found before it by more than the tolerance of
/// the coarser of the two techniques is a conflict (eq. 48): steel does not grow.  A reading that
/// is not accepted can only lower the wall that the next one is compared with.
void read_readings(const Plant& plant, std::uint32_t segment, Date until,
                   std::span<const std::uint8_t> effectiveness, const ReadingRules& rules,
                   std::vector<Reading>& readings);

/// Warns of every conflicting reading of the plant, at its cell.
void report_conflicting_readings(const Plant& plant, const RuleSet& rules, Report& report);

}  // namespace lagline
