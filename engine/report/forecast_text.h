#pragma once

#include <string>

#include "plant/plant.h"
#include "ranking/forecast.h"
#include "report/layout.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// When each segment is due if nothing is done, for a terminal: the day each criterion is reached,
/// and the probability of a leak over the horizon as a line of bars.
[[nodiscard]] std::string forecast_table(const Plant& plant, const Forecast& ahead,
                                         const TextStyle& style);

/// The years ahead of one segment: a row a year, and the days at which it reaches the criteria.
[[nodiscard]] std::string forecast_years(const Plant& plant, const Forecast& ahead,
                                         const ForecastCurve& curve, const TextStyle& style);

/// "2029-03-12 by its wall, 2031-07-01 by risk", or that none is reached.
[[nodiscard]] std::string due_text(const DueDates& due, int horizon_years);

/// Every point as CSV, a row a segment and date.
[[nodiscard]] std::string forecast_csv(const Plant& plant, const Forecast& ahead);

/// The curves with their due dates and criteria as one JSON document.
[[nodiscard]] std::string forecast_json(const Plant& plant, const RuleSet& rules,
                                        const Forecast& ahead);

}  // namespace lagline
