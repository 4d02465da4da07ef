#pragma once

#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "intake/links.h"
#include "intake/sheet_reader.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Replaces values of segments.csv by those of overrides.csv that hold at plant.ranked_at.  What
/// was replaced is kept in plant.applied_overrides.  Overrides that have run out, or were decided
/// after that date, are not applied: the former with a warning.
/// @param context      that segments.csv was read in
/// @param passed_over  where there is one, overrides of unknown segments are counted in it and are
///                     no error
void apply_overrides(Plant& plant, const SegmentIndex& index, const SheetContext& context,
                     PassedOver* passed_over, Report& report);

}  // namespace lagline
