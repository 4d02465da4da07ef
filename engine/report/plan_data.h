#pragma once

#include <string>

#include "planning/plan.h"

namespace lagline {

/// plan.csv: every ranked segment with what is done, when, for which money, and what it saves.
/// RFC 4180; rows in the order of segments.csv; money columns in the currency of the last column.
[[nodiscard]] std::string plan_csv(const Plant& plant, const RuleSet& rules, const Plan& plan);

/// The whole plan: proof, windows, limits with their prices, totals beside other ways of spending,
/// budget curve, near misses, and the rows of the CSV.
[[nodiscard]] std::string plan_json(const Plant& plant, const RuleSet& rules, const Plan& plan);

}  // namespace lagline
