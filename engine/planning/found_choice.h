#pragma once

#include <cstdint>
#include <vector>

#include "choice/choice_solver.h"
#include "planning/plan_problem.h"
#include "planning/strategies.h"

namespace lagline {

struct Plan;

/// What a search found before its time ran out: all of a plan that depends on how long it went on.
struct FoundChoice {
    double bound = 0.0;
    double weighted_overrun_bound = 0.0;
    std::vector<double> prices;             ///< by limit
    std::vector<std::uint32_t> strategies;  ///< by row of the futures: which of its strategies
};
[[nodiscard]] FoundChoice found_choice(const Plan& plan);

/// The same as the answer of a solver: costs and overruns are worked out from the problem.
/// @throws std::runtime_error  when it is no choice of this problem
[[nodiscard]] Solution solution_of(const FoundChoice& found, const PlanProblem& problem,
                                   const Strategies& strategies);

/// True where the search ended because its gap was proven: it then ends the same in every run.
/// @param gap  that was asked for
[[nodiscard]] bool ended_by_proof(const Solution& solution, double gap);

}  // namespace lagline
