#pragma once

#include <cstdint>

#include "synthesis/csv_writer.h"
#include "synthesis/hidden_wall.h"
#include "synthesis/segment.h"

namespace lagline {

/// Writes `count` inspections of a segment, by date: days of its unit's campaigns after the first
/// year in service and before June 2026, each at another campaign as long as there are enough.
void write_inspections(CsvWriter& out, std::uint64_t seed, const Rack& rack, const Line& line,
                       const Segment& segment, int id_digits, std::size_t count);

}  // namespace lagline
