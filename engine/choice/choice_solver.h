#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include "choice/choice_problem.h"

namespace lagline {

/// Where a solver stands.
struct SolveProgress {
    double objective = std::numeric_limits<double>::infinity();  ///< best choice so far
    double bound = -std::numeric_limits<double>::infinity();     ///< proven so far
    double seconds = 0.0;
};

struct SolveOptions {
    double gap = 1e-3;               ///< asked: (objective - bound) / |objective|, >= 0
    double time_limit_s = 60.0;      ///< after it the best so far is returned, with its gap
    unsigned threads = 0;            ///< 0: as many as the machine has cores; no effect on results
    std::size_t most_accesses = 10;  ///< of a component, 1 to 20; larger ones are relaxed
    std::vector<double> start_prices;                    ///< by resource; empty: start from nothing
    std::vector<StrategyIndex> start_choice;             ///< used if it is feasible; may be empty
    std::function<bool(const SolveProgress&)> progress;  ///< false stops the solver
};

enum class SolveStatus : std::uint8_t {
    proven,      ///< feasible, and the gap asked for is proven
    stopped,     ///< feasible, the gap is larger than asked for: time limit, or told to stop
    overrun,     ///< nothing fits: the choice of least cost and charged overrun is given
    none_found,  ///< no feasible choice was found in time, and none was ruled out
};

/// What the work took.  Counts only: they are the same in every run that no time limit cut short.
struct SolveCounters {
    std::size_t components = 0;       ///< parts that are independent once resources are priced
    std::size_t relaxed_bundles = 0;  ///< bundles whose link the price bound leaves out
    std::size_t shared_accesses = 0;  ///< accesses whose cost the price bound splits
    std::size_t price_evaluations = 0;
    std::size_t free_strategies = 0;  ///< left to the mixed-integer solver in its last call
    std::size_t integer_calls = 0;
    std::size_t integer_nodes = 0;
};

/// The answer of a solver.
struct Solution {
    SolveStatus status = SolveStatus::none_found;
    std::vector<StrategyIndex> choice;  ///< strategy of each unit; empty when none was found
    /// Of `choice`, re-computed; with status overrun the charge of its overruns is part of it.
    double objective = std::numeric_limits<double>::infinity();
    double bound = -std::numeric_limits<double>::infinity();  ///< no feasible choice costs less
    double gap = std::numeric_limits<double>::infinity();     ///< gap_of(objective, bound)
    /// Money saved per unit of capacity added, by resource, >= 0; 0 where capacity is left over.
    /// At the margin: a large step buys less.
    std::vector<double> shadow_price;
    /// Use beyond capacity by resource; 0 unless status is overrun.
    std::vector<double> overrun;
    double weighted_overrun = 0.0;  ///< sum of overrun x overrun_weight
    /// Proven: no choice has less.  0 with status overrun: time ran out before it was proven that
    /// nothing fits.
    double weighted_overrun_bound = 0.0;
    /// With status overrun: the search for the least overrun ended by its proof.
    bool least_overrun_proven = false;
    SolveCounters counters;
};

/// (objective - bound) / |objective|; 0 when they are equal, infinity when nothing is known.
[[nodiscard]] double gap_of(double objective, double bound);

/// Solves by pricing the resources, exactly for each component, and closing the gap with a
/// mixed-integer solver.  When nothing fits, limits may be exceeded at a fixed charge, so that a
/// larger capacity never makes the objective worse.
/// @pre validate(problem).ok()
/// @source docs/choice.md
[[nodiscard]] Solution solve_by_prices(const ChoiceProblem& problem, const SolveOptions& options);

/// The whole problem to the mixed-integer solver at once; resources that do not fit are told in
/// the same way.  Slower on large problems; here to compare.  Shadow prices are left at 0.
/// @pre validate(problem).ok()
[[nodiscard]] Solution solve_whole(const ChoiceProblem& problem, const SolveOptions& options);

}  // namespace lagline
