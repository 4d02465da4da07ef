#pragma once

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/plant.h"

namespace lagline {

/// Takes an inspection that stands in the file twice, the same in every cell, out of
/// inspection_order all but once, with a warning at the later row.  Needs inspection_order sorted
/// by goes_before(), which puts equal rows side by side.
void count_doubled_once(Plant& plant, const WorkPlan& plan, Report& report);

}  // namespace lagline
