#pragma once

#include <cstdint>

#include "choice/choice_problem.h"

namespace choice_test {

/// A small problem with accesses shared by several units, units that need several accesses,
/// bundles, accesses that reach across groups, limits without end, overruns with a price, and
/// capacities from ample to hopeless.  At most some thousand choices.
[[nodiscard]] lagline::ChoiceProblem random_problem(std::uint64_t number);

}  // namespace choice_test
