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

/// How well each inspection of the plant tells the damage state: code of `effectiveness` by row of
/// inspections.csv (table inspection_effectiveness by technique and coverage).
[[nodiscard]] std::vector<std::uint8_t> inspection_effectiveness(const Plant& plant,
                                                                 const RuleSet& rules);

/// What the inspections up to a date tell of one segment.
struct History {
    static constexpr std::int32_t nothing = -1;

    double wall_mm = 0.0;              ///< wall last known: reading, else nominal [mm]
    Date wall_known;                   ///< day of that reading, else day in service
    std::int32_t reading = nothing;    ///< row of inspections.csv that gave the wall
    std::int32_t failed_at = nothing;  ///< row of inspections.csv that found the coating failed
    Date failed_since;                 ///< first day on which one did
    std::int32_t conflict = nothing;   ///< row of the last reading that conflicts
};

/// What makes a reading count and a coating failed.
struct HistoryRules {
    ReadingRules readings;
    double failed_rust_grade = 0.0;
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
///     failed.
/// @param rate_mm_per_year  rate by which the wall is expected to be lost
/// @param[out] readings     of the segment, each with whether it counted; emptied first
[[nodiscard]] History read_history(const Plant& plant, std::uint32_t segment, Date until,
                                   std::span<const std::uint8_t> effectiveness,
                                   const HistoryRules& rules, double rate_mm_per_year,
                                   const ExpectedExposure& exposure,
                                   std::vector<Reading>& readings);

/// True when inspection row `row` found the present coating of the segment failed.
[[nodiscard]] bool found_failed(const Plant& plant, std::uint32_t segment, std::uint32_t row,
                                double failed_grade);

/// Day from which cracks may have grown unseen: that of the last inspection whose effectiveness is
/// accepted and that found none, else the day in service.
struct CrackHistory {
    Date clear;
    bool found = false;  ///< cracks were found and no later inspection cleared them
};
[[nodiscard]] CrackHistory read_crack_history(const Plant& plant, std::uint32_t segment, Date until,
                                              std::span<const std::uint8_t> effectiveness,
                                              const HistoryRules& rules);

}  // namespace lagline
