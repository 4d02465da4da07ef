#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "choice/choice_problem.h"

namespace lagline {

/// One unit put on another strategy.
struct Move {
    UnitIndex unit = 0;
    StrategyIndex strategy = 0;
};

/// A complete choice that can be changed unit by unit, with its use and cost kept up to date.
class ChoiceState {
  public:
    ChoiceState(const ChoiceProblem& problem, std::vector<StrategyIndex> choice);

    void apply(const Move& move);
    /// Applies all moves; what they replaced comes back through `undo`.
    void apply(std::span<const Move> moves, std::vector<Move>& undo);

    [[nodiscard]] const std::vector<StrategyIndex>& choice() const { return choice_; }
    [[nodiscard]] std::span<const double> use() const { return use_; }
    [[nodiscard]] bool is_open(AccessIndex a) const { return open_count_[a] > 0; }
    /// Costs, and overruns that have a price.
    [[nodiscard]] double objective() const;
    /// Overruns that must not be, each as a part of its capacity; 0 when the choice fits.
    [[nodiscard]] double violation() const;
    /// The part of it that resource r has.
    [[nodiscard]] double violation_of(std::size_t r) const;
    /// Cost plus price x use.
    [[nodiscard]] double priced(std::span<const double> prices) const;

  private:
    void count(StrategyIndex s, bool taken);
    [[nodiscard]] double over(std::size_t r) const;

    const ChoiceProblem& problem_;
    std::vector<StrategyIndex> choice_;
    std::vector<double> use_;
    std::vector<std::uint32_t> open_count_;  ///< chosen strategies that need the access
    double cost_ = 0.0;
};

}  // namespace lagline
