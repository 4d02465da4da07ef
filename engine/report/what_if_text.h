#pragma once

#include <string>

#include "planning/plan.h"
#include "ranking/ranking.h"
#include "report/layout.h"

namespace lagline {

/// One side of a comparison.
struct TrialSide {
    const Plant& plant;
    const Ranking& ranking;
    const Plan& plan;
};

/// What values on trial change: the risk, the ranks, the plan.  Both sides have the same segments.
/// @param top  rows of each list, 0 for all
[[nodiscard]] std::string what_if_text(const TrialSide& before, const TrialSide& after,
                                       std::size_t top, const TextStyle& style);

}  // namespace lagline
