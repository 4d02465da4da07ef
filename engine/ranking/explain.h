#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "exposure/wetness.h"
#include "plant/plant.h"
#include "ranking/drivers.h"
#include "ranking/forecast.h"
#include "ranking/hot_spots.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// One thing that a quantity is made of: another quantity, a cell, or a value of plant.yaml.
struct ExplainedInput {
    std::string key;
    bool is_quantity = false;  ///< explained on its own; the rest of this is then empty
    std::string value;         ///< with its unit; empty when the cell is empty
    std::string shown;         ///< the same with few digits, for people
    CellState state = CellState::absent;
    Place place;           ///< of the cell, or of the default
    std::string replaced;  ///< what an override replaced
    std::string reason;    ///< of an override or a default
};

/// A rule entry that made a quantity.
struct ExplainedRule {
    const TableInfo* table = nullptr;
    const RuleEntry* entry = nullptr;
    bool outside = false;  ///< the argument lay outside the table's validity
};

/// A quantity of the method with its value and all it is made of.
struct ExplainedQuantity {
    const QuantityInfo* info = nullptr;
    std::string_view section;      ///< step of the method
    std::string formula;           ///< with the rule values in force
    std::string unit;              ///< with the plant's currency
    std::optional<double> number;  ///< nothing for a word
    std::string word;
    std::vector<ExplainedInput> inputs;
    std::vector<ExplainedRule> rules;
};

/// An inspection of the segment and what it was used for.
struct ExplainedInspection {
    std::uint32_t row = 0;  ///< of inspections.csv
    Date date;
    std::string technique;
    double coverage_percent = 0.0;
    std::string effectiveness;
    std::optional<double> least_thickness_mm;
    std::optional<double> rust_grade;
    std::string report;
    Place place;
    const RuleEntry* rule = nullptr;  ///< that gave the effectiveness
    bool earns_credit = false;        ///< counts as one inspection of its effectiveness
    bool gave_wall = false;           ///< its reading is the wall of the calculation
    bool found_coating_failed = false;
    bool conflicts = false;        ///< its reading exceeds the wall found before it
    bool after_rank_date = false;  ///< not known at the rank date: not used
    std::vector<std::string> used_for;
};

/// Why a segment ranks where it does.  Every number is read from the columns of the ranking.
struct Explanation {
    std::string segment;
    std::string line;
    std::string unit;
    std::string mechanism;
    std::size_t rank = 0;  ///< from 1
    std::size_t of = 0;
    RankDate at;
    std::string currency;
    std::vector<std::string> rule_layers;
    Place place;  ///< the row of segments.csv
    std::vector<ExplainedQuantity> quantities;
    std::vector<ServiceLevel> levels;  ///< metal temperatures and shares of the year
    Sweating sweating;                 ///< months in which water condenses
    std::string fluid_class;           ///< empty where it is not recorded
    std::string hazard;                ///< word of `service_hazard`; empty likewise
    std::string hazard_meaning;        ///< what a release threatens, and what to do about it
    std::vector<ExplainedInspection> inspections;
    std::vector<HotSpot> hot_spots;
    std::vector<Driver> drivers;
    double thin_wall_ratio = 0.0;  ///< of the expected to the minimum wall: below it, a caution
    std::size_t assumptions = 0;
    std::vector<EngineerNeed> engineer_now;  ///< of this segment, where the ranking has an outlook
    std::vector<std::string> engineer_why;   ///< of each, in words
    std::size_t rank_today = 0;              ///< 0 where the ranking has no outlook
    std::optional<Forecast> ahead;           ///< of this segment alone; for whoever asks for it
};

/// Explains the row of `ranking`.  The result points into `rules`.
[[nodiscard]] Explanation explain(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                  std::uint32_t row);

/// The same for whoever explains many rows: what they share is worked out once.
/// @param drivers  of `ranking`
/// @param rank     of the row, from 1
[[nodiscard]] Explanation explain(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                  std::uint32_t row, const DriverFinder& drivers, std::size_t rank);

/// Row of `ranking` for a segment name; nothing when the segment is not there or not ranked.
[[nodiscard]] std::optional<std::uint32_t> find_row(const Plant& plant, const Ranking& ranking,
                                                    std::string_view segment);

/// `unit` with the currency sign replaced by the plant's currency.
[[nodiscard]] std::string with_currency(std::string_view unit, std::string_view currency);

}  // namespace lagline
