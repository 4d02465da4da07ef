#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "intake/load_plant.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A plant as its records would have read on a past day.
struct KnownPlant {
    Plant plant;
    std::vector<std::uint32_t> row_today;  ///< row of segments.csv of each segment left
    std::size_t not_in_service = 0;        ///< segments left out: they came later
    std::size_t coatings_later = 0;        ///< segments whose coating came later: not known
    std::size_t insulation_later = 0;      ///< segments whose insulation came later: not known
};

/// The plant of `sources` as known at the end of day `at`, to be ranked at that day:
///   - segments that went into service later are left out, and so are later inspections;
///   - a coating or insulation applied later was not there, and what it replaced is not on record:
///     its cells are empty and take their defaults.  Where only one of the two has a day, the other
///     is taken to be of the same day;
///   - overrides in force on that day apply, and no others;
///   - a day that is given as a month or a year only is taken to be the last that it can be.
/// Columns without a day (condition of the insulation, driver, complexity, ...) and plant.yaml are
/// taken as they stand today.
/// @param[out] report  what intake found; sources without an error today can have one on a past day,
///                     when two overrides were in force together
/// @return nothing when there is an error
[[nodiscard]] std::optional<KnownPlant> plant_as_known(const PlantSources& sources,
                                                       const RuleSet& rules, Date at,
                                                       Report& report, const WorkPlan& plan = {});

/// True when a day of `column` was past at `at` even if only its month or year is on record.
[[nodiscard]] bool is_past(const SheetColumn& column, std::size_t row, Date at);

/// `rules` without the site factors that were learned after day `at`.
[[nodiscard]] RuleSet rules_as_known(const RuleSet& rules, Date at);

}  // namespace lagline
