#pragma once

#include <optional>

#include "diagnostics/diagnostic.h"
#include "plant/plant.h"

namespace lagline {

/// The date to rank at: `at` when given, else rank_date of plant.yaml, else the start of the first
/// window of turnarounds.csv that starts after `today`.  Reported as an error when there is none.
[[nodiscard]] RankDate find_rank_date(const Plant& plant, std::optional<Date> at, Date today,
                                      Report& report);

}  // namespace lagline
