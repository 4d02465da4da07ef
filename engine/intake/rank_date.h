#pragma once

#include <optional>

#include "diagnostics/diagnostic.h"
#include "plant/plant.h"

namespace lagline {

/// The date to rank at: `at` when given, else rank_date of plant.yaml, else the start of the second
/// window of turnarounds.csv that starts after `today`: a segment that is left alone in the next
/// window must last until the one after.  With one window left it is the start of that one, with a
/// warning; with none it is an error.
[[nodiscard]] RankDate find_rank_date(const Plant& plant, std::optional<Date> at, Date today,
                                      Report& report);

}  // namespace lagline
