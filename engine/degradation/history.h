#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "degradation/readings.h"
#include "diagnostics/diagnostic.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// How well each inspection of the plant shows loss of wall: code of `effectiveness` by row of
/// inspections.csv (table inspection_effectiveness by technique and coverage).
[[nodiscard]] std::vector<std::uint8_t> inspection_effectiveness(const Plant& plant,
                                                                 const RuleSet& rules);
/// How well each shows cracks (table crack_inspection_effectiveness by technique and coverage).
[[nodiscard]] std::vector<std::uint8_t> crack_inspection_effectiveness(const Plant& plant,
                                                                       const RuleSet& rules);

/// What the inspections up to a date tell of one segment.
struct History {
    static constexpr std::int32_t nothing = -1;

    double wall_mm = 0.0;              ///< wall last known: reading, else nominal [mm]
    Date wall_known;                   ///< day of that reading, else day in service
    std::int32_t reading = nothing;    ///< row of inspections.csv that gave the wall
    std::int32_t failed_at = nothing;  ///< row of inspections.csv that found the coating failed
    std::int32_t conflict = nothing;   ///< row of the last reading that conflicts
    /// Wall by the last accepted reading, else nominal, and its day: other than wall_mm where a
    /// reading that is not accepted gave that.
    double accepted_mm = 0.0;
    Date accepted_known;
    /// Row of the thinnest reading that no later accepted one cleared, and what it read [mm].
    std::int32_t thinnest = nothing;
    double thinnest_mm = 0.0;
};

/// What makes a reading count, a coating failed, and a coating a new one.
struct HistoryRules {
    ReadingRules readings;
    double failed_rust_grade = 0.0;
    double whole_coat_share = 1.0;  ///< renewed share of the surface that makes a new coat of it
    bool earlier_coat = true;       ///< a coat like the present one was there before `coating_date`
};
[[nodiscard]] HistoryRules history_rules(const RuleSet& rules);

/// Time without protection [y] that the method expects from history.wall_known to a day.
using ExpectedExposure = std::function<double(const History& known, Date day)>;

/// Goes through the inspections of segment row `segment` up to and including `until`, in the order
/// of their dates.
///   - A reading becomes the known wall when the inspection's effectiveness is accepted, or when it
///     is below the wall expected at that day: little looked at is no comfort, but a thin place
///     found is a fact.  A reading that was set aside does not.
///   - A rust grade at or below the failed grade, found on the present coating, means it has
///     failed; a reading of that day is judged without the coating.
///   - Readings before the day in service were of the pipe before this one and leave no thinnest
///     wall.
/// @param rate_mm_per_year  rate by which the wall is expected to be lost
/// @param[out] readings     of the segment, each with whether it counted; emptied first
[[nodiscard]] History read_history(const Plant& plant, std::uint32_t segment, Date until,
                                   std::span<const std::uint8_t> effectiveness,
                                   const HistoryRules& rules, double rate_mm_per_year,
                                   const ExpectedExposure& exposure,
                                   std::vector<Reading>& readings);

/// What an inspection says of cracks, by its effectiveness for cracking.
struct CrackRules {
    const LookupTable* accepted = nullptr;  ///< found none: cracks grow anew from that day
    const LookupTable* clears = nullptr;    ///< `no`: known cracks are gone
};
[[nodiscard]] CrackRules crack_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> crack_history_needs();

/// What the inspections up to a date say of cracks in one segment.
struct CrackHistory {
    Date clear;                      ///< day from which cracks may have grown unseen
    bool found = false;              ///< cracks were found, and no inspection cleared them since
    std::uint32_t credit_begin = 0;  ///< first of plant.inspection_order that may earn credit
    std::int32_t found_row = History::nothing;    ///< row of inspections.csv that found the cracks
    std::int32_t cleared_row = History::nothing;  ///< row that `clear` is the day of
};

/// Goes through the inspections of segment row `segment` from its day in service up to and
/// including `until`.
///   - Cracks that were found stay known until an inspection says `no` and its effectiveness for
///     cracking clears them (table crack_finding_cleared).  An empty cell clears nothing.
///   - While cracks are known, no inspection earns credit, and they may have grown since the day in
///     service.
///   - Else the day from which cracks may have grown is that of the last inspection that found none
///     and whose effectiveness is accepted (table crack_inspection_accepted).
/// Inspections before the day in service looked at another pipe.
/// @param effectiveness  by row of inspections.csv: see crack_inspection_effectiveness()
[[nodiscard]] CrackHistory read_crack_history(const Plant& plant, std::uint32_t segment, Date until,
                                              std::span<const std::uint8_t> effectiveness,
                                              const CrackRules& rules);

}  // namespace lagline
