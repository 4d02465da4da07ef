#pragma once

#include "synthesis/csv_writer.h"
#include "synthesis/line.h"
#include "synthesis/segment.h"

namespace lagline {

/// Writes the row of segments.csv: what the records tell of a segment, gaps and all.
/// @param id_digits  digits of the segment's name
void write_segment(CsvWriter& out, const Rack& rack, const Line& line, const Segment& segment,
                   int id_digits);

}  // namespace lagline
