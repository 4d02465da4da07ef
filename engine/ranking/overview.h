#pragma once

#include <array>
#include <cstddef>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/forecast.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// One process unit in the overview of a plant.
struct UnitOverview {
    std::string_view unit;
    std::size_t segments = 0;        ///< ranked ones
    std::vector<std::size_t> bands;  ///< segments by code of `risk_category`
    double risk_per_year = 0.0;      ///< at the rank date, plant currency a year
    std::size_t due = 0;             ///< reach a criterion up to the rank date
};

/// Segments that reach their first criterion in the same year, by that criterion.
using DueInYear = std::array<std::size_t, all_criteria.size()>;

/// The sums and counts that a manager asks for first.
struct PlantOverview {
    std::size_t ranked = 0;
    std::size_t not_ranked = 0;
    std::vector<std::size_t> bands;    ///< segments by code of `risk_category`
    double risk_per_year = 0.0;        ///< at the rank date, plant currency a year
    double first_ten_share = 0.0;      ///< share of it in the first ten ranks
    std::size_t due_today = 0;         ///< have reached a criterion
    std::size_t due = 0;               ///< reach one up to the rank date, today's among them
    std::size_t never_inspected = 0;   ///< ranked segments without an inspection on record
    double assumptions_mean = 0.0;     ///< assumed inputs a ranked segment
    std::vector<UnitOverview> units;   ///< the greatest risk first, ties by name
    std::vector<double> risk_by_year;  ///< of all at each date of the forecast, if nothing is done
    /// By date of the forecast: those due after the date before it and up to it.
    std::vector<DueInYear> due_by_year;
};

/// @param ranking  of `plant` by `rules`
/// @param ahead    of every ranked segment
[[nodiscard]] PlantOverview overview_of(const Plant& plant, const RuleSet& rules,
                                        const Ranking& ranking, const Forecast& ahead);

}  // namespace lagline
