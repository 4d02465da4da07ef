#pragma once

#include <limits>
#include <vector>

#include "choice/choice_problem.h"

namespace choice_test {

/// The best of all choices, by trying every one.
struct Exhaustive {
    bool feasible = false;
    double objective = std::numeric_limits<double>::infinity();
    double charged = std::numeric_limits<double>::infinity();  ///< least with charged overruns
    double weighted_overrun = std::numeric_limits<double>::infinity();  ///< least of any choice
    std::vector<double> objective_with;  ///< by strategy: best feasible objective that takes it
};

/// Meant for some ten thousand choices; judged by check_choice alone.
[[nodiscard]] Exhaustive try_all(const lagline::ChoiceProblem& problem);

}  // namespace choice_test
