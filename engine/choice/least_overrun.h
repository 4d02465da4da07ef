#pragma once

#include <functional>
#include <optional>

#include "choice/choice_solver.h"

namespace lagline {

/// Solves one problem without asking what to do when nothing fits.
using PlainSolver = std::function<Solution(const ChoiceProblem&, const SolveOptions&)>;

/// For a problem for which `plain` found no choice: the least weighted overrun, which proves that
/// nothing fits, and if there is any, the least sum of cost and charged overrun.
/// Nothing comes back when not even that was found in time.
/// @source docs/choice.md, "When nothing fits"
[[nodiscard]] std::optional<Solution> solve_with_least_overrun(const ChoiceProblem& problem,
                                                               const SolveOptions& options,
                                                               const PlainSolver& plain);

}  // namespace lagline
