#include "choice/choice_state.h"

#include <algorithm>
#include <cmath>

#include "choice/choice_check.h"

namespace lagline {

ChoiceState::ChoiceState(const ChoiceProblem& problem, std::vector<StrategyIndex> choice)
    : problem_(problem),
      choice_(std::move(choice)),
      use_(problem.resource_count(), 0.0),
      open_count_(problem.access_count(), 0) {
    for (const StrategyIndex s : choice_) count(s, true);
}

void ChoiceState::count(StrategyIndex s, bool taken) {
    const double sign = taken ? 1.0 : -1.0;
    cost_ += sign * problem_.strategies.cost[s];
    problem_.strategies.use.add_to(use_, s, sign);
    for (const AccessIndex a : problem_.strategies.needs.of(s)) {
        if (!taken) --open_count_[a];
        if (open_count_[a] == 0) {
            cost_ += sign * problem_.access.cost[a];
            problem_.access.use.add_to(use_, a, sign);
        }
        if (taken) ++open_count_[a];
    }
}

void ChoiceState::apply(const Move& move) {
    count(choice_[move.unit], false);
    choice_[move.unit] = move.strategy;
    count(move.strategy, true);
}

void ChoiceState::apply(std::span<const Move> moves, std::vector<Move>& undo) {
    undo.clear();
    for (const Move& move : moves) {
        undo.push_back({move.unit, choice_[move.unit]});
        apply(move);
    }
}

double ChoiceState::over(std::size_t r) const {
    const double capacity = problem_.resources.capacity[r];
    const double over = use_[r] - capacity;
    // Half the tolerance of the check: sums that were added and taken off again have errors.
    return over > 0.5 * capacity_tolerance * std::max(1.0, capacity) ? over : 0.0;
}

double ChoiceState::objective() const {
    double sum = cost_;
    for (std::size_t r = 0; r < use_.size(); ++r) {
        const double price = problem_.resources.overrun_price[r];
        if (std::isfinite(price)) sum += price * over(r);
    }
    return sum;
}

double ChoiceState::violation_of(std::size_t r) const {
    if (std::isfinite(problem_.resources.overrun_price[r])) return 0.0;
    return over(r) / std::max(1.0, problem_.resources.capacity[r]);
}

double ChoiceState::violation() const {
    double sum = 0.0;
    for (std::size_t r = 0; r < use_.size(); ++r) sum += violation_of(r);
    return sum;
}

double ChoiceState::priced(std::span<const double> prices) const {
    double sum = cost_;
    for (std::size_t r = 0; r < use_.size(); ++r) sum += prices[r] * use_[r];
    return sum;
}

}  // namespace lagline
