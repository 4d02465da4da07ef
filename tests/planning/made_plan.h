#pragma once

#include <string>
#include <string_view>

#include "planning/plan.h"
#include "support/rounds.h"
#include "support/small_plant.h"

namespace lagline {

/// A window of turnarounds.csv without limits, with `changes` on top.
[[nodiscard]] Cells window_cells(std::string_view name, std::string_view start,
                                 std::string_view end, const Cells& changes = {});

/// A climate in which paint dries from May to September.
[[nodiscard]] Climate mild_climate();

/// Ranked with its outlook, and planned.
struct Planned {
    Ranking ranking;
    Plan plan;
};
[[nodiscard]] Planned planned(const Plant& plant, const RuleSet& rules,
                              const PlanOptions& options = {}, const WorkPlan& work = {});

/// Options without the curve of budgets, which most tests do not read.
[[nodiscard]] PlanOptions without_curve();

/// How near to the best the plan of the sample plant is proven.
inline constexpr double sample_gap = under_sanitizers ? 1e-2 : 1e-3;

/// The sample plant as of 2026-11-25, planned once.
struct SamplePlan {
    Plant plant;
    Planned made;
};
[[nodiscard]] const SamplePlan& sample_plan();

}  // namespace lagline
