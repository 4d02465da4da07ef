#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "choice/choice_problem.h"

namespace lagline {

/// A mixed-integer programme by columns: min cost x, row_low <= A x <= row_high, x between 0 and
/// upper.
struct IntegerProgram {
    std::vector<int> first{0};  ///< entries of column j: [first[j], first[j+1])
    std::vector<int> row;
    std::vector<double> value;
    std::vector<double> cost;
    std::vector<double> low;
    std::vector<double> high;
    std::vector<std::uint8_t> is_integer;
    std::vector<double> row_low;
    std::vector<double> row_high;

    std::vector<StrategyIndex> strategy_of_column;  ///< of the first columns, one a free strategy
    double constant = 0.0;                          ///< cost of what is settled
    std::vector<StrategyIndex> settled;             ///< by unit: its only strategy, or no_strategy

    [[nodiscard]] std::size_t columns() const { return cost.size(); }
    [[nodiscard]] std::size_t rows() const { return row_low.size(); }
};

inline constexpr StrategyIndex no_strategy = static_cast<StrategyIndex>(-1);

/// The problem over the strategies for which `keep` is not 0, as a mixed-integer programme.  Units
/// with one strategy left are settled and leave it, and so do the accesses they open.  The last
/// column stands for the constant, so that the solver sees whole costs.
/// @source docs/choice.md, eq. 2
[[nodiscard]] IntegerProgram integer_program(const ChoiceProblem& problem,
                                             std::span<const std::uint8_t> keep);

struct IntegerOptions {
    double relative_gap = 0.0;
    double absolute_gap = 0.0;  ///< money
    double cutoff = 0.0;        ///< money; only better choices are wanted
    bool has_cutoff = false;
    double time_limit_s = 0.0;
    int most_nodes = -1;  ///< -1: no limit
};

struct IntegerResult {
    bool finished = false;              ///< the search ended by itself
    std::vector<StrategyIndex> choice;  ///< best found; empty when none
    bool has_bound = false;
    double bound = 0.0;  ///< no choice of the programme costs less (the cutoff, if none is better)
    std::size_t nodes = 0;
};

/// Solves by CBC, one thread, nothing printed.
[[nodiscard]] IntegerResult solve_integer(const IntegerProgram& program,
                                          const IntegerOptions& options);

}  // namespace lagline
