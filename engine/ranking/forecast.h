#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "blocks/parallel.h"
#include "plant/plant.h"
#include "quantity/date.h"
#include "ranking/criteria.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The days at which a segment reaches the criteria; nothing for one that it does not reach within
/// the horizon, or that nobody set.
struct DueDates {
    std::array<std::optional<Date>, all_criteria.size()> reached;  ///< by Criterion

    /// The criterion reached first; of one day the first of the list.
    [[nodiscard]] std::optional<Criterion> first() const;
    /// Its day.
    [[nodiscard]] std::optional<Date> date() const;
};

/// A segment at one date if nothing is done to it.
struct ForecastPoint {
    double damage_factor = 0.0;  ///< of both mechanisms, where the segment has two
    double probability_per_year = 0.0;
    double risk_per_year = 0.0;     ///< plant currency a year
    double expected_wall_mm = 0.0;  ///< wall loss only
    double below_minimum = 0.0;     ///< probability; wall loss only
};

/// The curve of one segment over the dates of a forecast.
struct ForecastCurve {
    std::uint32_t segment_row = 0;
    bool loses_wall = false;
    double minimum_thickness_mm = 0.0;  ///< wall loss only
    std::vector<ForecastPoint> points;  ///< one per date
    DueDates due;
};

struct Forecast {
    std::vector<Date> dates;  ///< plant.today and the same day of each year after it
    Criteria criteria;
    std::vector<ForecastCurve> curves;  ///< in the order asked; without those that are not ranked
};

inline constexpr int usual_horizon_years = 20;

/// The years ahead of the segments `rows` if nothing is done: the method of rank() at plant.today
/// and at the same day of each of the next `years` years, with every inspection on record.  Between
/// two of these days a quantity runs straight (eq. 58): a criterion is reached on the first whole
/// day on which that line does.
[[nodiscard]] Forecast forecast(const Plant& plant, const RuleSet& rules,
                                std::span<const std::uint32_t> rows, int years,
                                const WorkPlan& plan = {});

}  // namespace lagline
