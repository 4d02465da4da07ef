#pragma once

#include <cstddef>
#include <cstdint>
#include <istream>
#include <vector>

#include "choice/choice_problem.h"

namespace choice_test {

/// Jobs that each go to one agent; agents have a capacity.
struct Assignment {
    std::size_t agents = 0;
    std::size_t jobs = 0;
    std::vector<double> cost;      ///< agent x job
    std::vector<double> resource;  ///< agent x job
    std::vector<double> capacity;  ///< by agent
};

/// Reads the layout of OR-Library's gap files.
[[nodiscard]] std::vector<Assignment> read_assignments(std::istream& in);

/// Class C of the literature: costs 10 to 50, resources 5 to 25, capacity 0.8 of the mean load of
/// an agent (Martello and Toth, Knapsack Problems, 1990, 7.4, recalled).
[[nodiscard]] Assignment made_assignment(std::size_t agents, std::size_t jobs, std::uint64_t seed);

/// @param sign  1 to minimise, -1 to maximise
[[nodiscard]] lagline::ChoiceProblem problem_of(const Assignment& assignment, double sign);

}  // namespace choice_test
