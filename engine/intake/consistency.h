#pragma once

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/plant.h"

namespace lagline {

/// Reports what cannot be true together within a row: a wall thicker than the pipe, a cycle whose
/// cold end is hotter than its hot end, a window that ends before it starts; and warns of what is
/// hardly true: a measured wall well above nominal, a diameter that is not that of the size.
void check_consistency(const Plant& plant, const WorkPlan& plan, Report& report);

}  // namespace lagline
