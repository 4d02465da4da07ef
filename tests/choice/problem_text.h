#pragma once

#include <ostream>

#include "choice/choice_problem.h"

namespace choice_test {

/// The problem in lines of numbers, as second_solver.py reads it:
///   problem RESOURCES ACCESSES UNITS
///   resource CAPACITY OVERRUN_PRICE              one line a resource, "inf" for infinity
///   access COST n RESOURCE AMOUNT ...
///   unit BUNDLE STRATEGIES                       bundle -1 for none
///   strategy COST PATTERN n RESOURCE AMOUNT ... m ACCESS ...
void write_problem(std::ostream& out, const lagline::ChoiceProblem& problem);

}  // namespace choice_test
