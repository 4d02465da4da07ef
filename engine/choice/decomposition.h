#pragma once

#include "choice/choice_solver.h"

namespace lagline {

/// What one run of prices, repair and integer programme found, before it is asked what to do
/// when nothing fits.
struct DecompositionRun {
    Solution solution;
    bool infeasible = false;  ///< proven: no choice fits
};

/// @source docs/choice.md
[[nodiscard]] DecompositionRun run_decomposition(const ChoiceProblem& problem,
                                                 const SolveOptions& options);

}  // namespace lagline
