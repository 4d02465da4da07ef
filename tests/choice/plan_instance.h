#pragma once

#include <cstddef>
#include <cstdint>

#include "choice/choice_problem.h"

namespace choice_test {

/// What a made-up planning problem looks like.  docs/choice.md, "Made instances", has the recipe.
struct PlanRecipe {
    std::size_t segments = 500;
    std::size_t windows = 4;
    std::size_t group_size = 8;      ///< segments that share an access group
    double budget_share = 0.10;      ///< budget of a window as part of inspecting everything once
    double hours_share = 0.11;       ///< craft hours of a window, likewise
    double compulsory_share = 0.03;  ///< segments that must be worked on in some window
    double bundle_share = 0.0;       ///< pairs of neighbours that act together, as part of segments
    std::uint64_t seed = 1;
};

/// The same problem on every machine.  Resource 2w is the budget of window w, 2w + 1 its hours.
[[nodiscard]] lagline::ChoiceProblem plan_instance(const PlanRecipe& recipe);

}  // namespace choice_test
