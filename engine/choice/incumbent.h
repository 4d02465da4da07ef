#pragma once

#include <chrono>
#include <span>
#include <vector>

#include "choice/choice_solver.h"

namespace lagline {

/// The best feasible choice and the best bound so far, and the time that is left.
class Incumbent {
  public:
    Incumbent(const ChoiceProblem& problem, const SolveOptions& options);

    /// Takes the choice if a re-computation finds it feasible and cheaper; true when it did.
    bool offer(std::span<const StrategyIndex> choice);
    /// Takes a proven bound if it is higher.
    void raise_bound(double bound);

    [[nodiscard]] bool has_choice() const { return !choice_.empty(); }
    [[nodiscard]] double objective() const { return objective_; }
    [[nodiscard]] double bound() const { return bound_; }
    [[nodiscard]] const std::vector<StrategyIndex>& choice() const { return choice_; }
    /// Objectives below this would narrow the gap that was asked for.
    [[nodiscard]] double target() const;
    [[nodiscard]] bool gap_reached() const;
    [[nodiscard]] double seconds() const;
    [[nodiscard]] double seconds_left() const;
    /// Reports progress; true when time is up or the caller wants no more.
    [[nodiscard]] bool must_stop();

    /// Writes status, choice, objective, bound and gap.
    void write(Solution& into) const;

  private:
    const ChoiceProblem& problem_;
    const SolveOptions& options_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    std::vector<StrategyIndex> choice_;
    double objective_ = std::numeric_limits<double>::infinity();
    double bound_ = -std::numeric_limits<double>::infinity();
    bool told_to_stop_ = false;
};

/// Part of the objective that counts as no gap: the rounding of sums of doubles.
inline constexpr double no_gap = 1e-9;

}  // namespace lagline
