#pragma once

#include <string>

#include "ranking/uncertainty.h"
#include "report/layout.h"

namespace lagline {

/// "coating_date, not known", "in_service, no day given", "least_thickness of 2019-06-12".
[[nodiscard]] std::string gap_name(const Plant& plant, const GapEffect& gap);

/// How sure the ranking is, for a terminal: the first segments with their chance of belonging to
/// the top group and the range of their rank, segments below it that may belong to it, and the
/// records to find first.
/// @param rows  segments and records to print; 0 for all
[[nodiscard]] std::string uncertainty_text(const Plant& plant, const RuleSet& rules,
                                           const Uncertainty& sure, std::size_t rows,
                                           const TextStyle& style);

}  // namespace lagline
