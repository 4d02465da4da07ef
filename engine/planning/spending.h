#pragma once

#include <vector>

#include "planning/plan.h"

namespace lagline {

/// The money of the windows spent in an order that looks at no other segment: window by window,
/// down the list, each segment that still fits the budget and the hours is worked on.  Neither
/// deadlines nor test packs are looked at.
///  rank       by risk at the rank date; strip, inspect and recoat
///  rank_best  the same order, with the action of the window that saves most
///  age        the oldest coating first, else the longest in service; strip, inspect and recoat
///  interval   those not opened for a fixed number of years, the longest first; the same work
/// @source docs/planning.md, "Beside simpler ways"
[[nodiscard]] std::vector<SpendingResult> other_spending(const Plan& plan, const Plant& plant,
                                                         double interval_years);

}  // namespace lagline
