#pragma once

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The plant that a check describes under `plant`: management score, a climate of twelve equal
/// months, and the units in cooling-tower drift and under deluge tests.  What cannot be read is
/// reported.
[[nodiscard]] PlantDescription plant_of_check(const RuleCheck& check, Report& report);

}  // namespace lagline
