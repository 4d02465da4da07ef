#pragma once

#include <cstdint>

#include "plant/sheet.h"

namespace lagline {

/// True when row `a` of inspections.csv is gone through before row `b`: by date; what was found on
/// one day from the mild to the grave, cracks last, then the thinnest wall last, then the deepest
/// pit, so that no finding is lost behind a milder one of the same day.  What is equal in all this
/// is ordered by the other columns, so that the order of the file says nothing.
[[nodiscard]] bool goes_before(const InspectionSheet& inspections, std::uint32_t a,
                               std::uint32_t b);

/// True when two rows of inspections.csv say the same in every column that Lagline knows.
[[nodiscard]] bool is_same_inspection(const InspectionSheet& inspections, std::uint32_t a,
                                      std::uint32_t b);

}  // namespace lagline
