#pragma once

#include <string>

#include "plant/plant.h"
#include "ranking/forecast.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The curves as a picture (SVG, no script, nothing from outside): probability of a leak in a year
/// over time on a scale of powers of ten, the criterion as a line, the due date of each segment as
/// a mark; for up to `most_told_apart` segments each has its own colour, dash and name at its end.
[[nodiscard]] std::string forecast_svg(const Plant& plant, const RuleSet& rules,
                                       const Forecast& ahead);

}  // namespace lagline
