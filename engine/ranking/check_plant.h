#pragma once

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The plant that a check describes under `plant`: management score, a climate of twelve equal
/// months, the units in cooling-tower drift and under deluge tests, and the margin that the
/// segment's unit loses in a day.  What cannot be read is reported.
[[nodiscard]] PlantDescription plant_of_check(const RuleCheck& check, Report& report);

}  // namespace lagline
