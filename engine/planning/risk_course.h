#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "planning/plan.h"

namespace lagline {

/// Expected risk of all segments together [plant currency a year] at each date of the plan's
/// futures, if the strategies of `choice` are followed.  What follows an inspection counts by the
/// chance of what it reports in each damage state.
/// @param choice  position in Strategies::all, by row of the futures
[[nodiscard]] std::vector<double> risk_course(const Plan& plan, const Plant& plant,
                                              const RuleSet& rules, const Ranking& ranking,
                                              std::span<const std::uint32_t> choice,
                                              const WorkPlan& work = {});

}  // namespace lagline
