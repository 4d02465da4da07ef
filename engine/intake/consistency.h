#pragma once

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "intake/days_checked.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Reports what cannot be true of any pipe, or not together within a row: a wall thicker than the
/// pipe, steel hotter than anybody runs it, a pressure that bursts the new pipe, a coating of next
/// year, a window that ends before it starts.  Warns of what is hardly true, and says what it
/// moves: a wall heavier than any schedule, a diameter that is not that of the size.
/// @param rules  gives the limits (limits.h)
void check_consistency(const Plant& plant, const RuleSet& rules, DaysChecked days,
                       const WorkPlan& plan, Report& report);

}  // namespace lagline
