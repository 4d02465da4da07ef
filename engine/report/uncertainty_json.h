#pragma once

#include <string>

#include "ranking/uncertainty.h"

namespace lagline {

/// The whole result as one JSON document: options, segments with their gaps, records to find first.
/// @param rows  segments and records to write; 0 for all
[[nodiscard]] std::string uncertainty_json(const Plant& plant, const RuleSet& rules,
                                           const Uncertainty& sure, std::size_t rows);

}  // namespace lagline
