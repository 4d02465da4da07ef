#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "intake/days_checked.h"
#include "intake/segment_index.h"
#include "plant/plant.h"

namespace lagline {

/// Indexes the segments; a name that stands twice is reported with both places.  Empty when
/// segments.csv could not be read: whoever looks up a name then has nothing to report, the cause
/// has been.
[[nodiscard]] SegmentIndex index_segments(const SegmentSheet& segments, const WorkPlan& plan,
                                          Report& report);

/// Rows of other tables that are of segments in other parts, where a plant is read in parts.
struct PassedOver {
    std::size_t inspections = 0;
    std::size_t overrides = 0;
};

/// Ties inspections to their segments, by date, and reports inspections of unknown segments and
/// those before the segment was in service.  One after today is left out, with a warning: nobody
/// has seen yet what it found.  Fills inspection_begin and inspection_order.
/// @param days  not_at_all leaves those after today out without a word
/// @param passed_over  where there is one, those of unknown segments are counted in it instead
void link_inspections(Plant& plant, const SegmentIndex& index, DaysChecked days,
                      const WorkPlan& plan, PassedOver* passed_over, Report& report);

/// Reports a segment name that is not in segments.csv, unless no name is.
void report_unknown_segment(const Sheet& sheet, std::size_t field, std::size_t row,
                            std::string_view name, const SegmentIndex& index, Report& report);

}  // namespace lagline
