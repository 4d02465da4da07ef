#include "choice/incumbent.h"

#include <algorithm>
#include <cmath>

#include "choice/choice_check.h"

namespace lagline {

double gap_of(double objective, double bound) {
    if (!std::isfinite(objective) || !std::isfinite(bound)) {
        return std::numeric_limits<double>::infinity();
    }
    const double distance = objective - bound;
    if (distance <= 0.0) return 0.0;
    return distance / std::abs(objective);
}

Incumbent::Incumbent(const ChoiceProblem& problem, const SolveOptions& options)
    : problem_(problem), options_(options) {
    if (!options.start_choice.empty()) offer(options.start_choice);
}

bool Incumbent::offer(std::span<const StrategyIndex> choice) {
    const ChoiceCheck check = check_choice(problem_, choice);
    if (!check.feasible() || !(check.objective() < objective_)) return false;
    choice_.assign(choice.begin(), choice.end());
    objective_ = check.objective();
    return true;
}

void Incumbent::raise_bound(double bound) { bound_ = std::max(bound_, bound); }

double Incumbent::target() const {
    // A little less than asked for, so that the steps of the integer solver find room in it.
    return objective_ - std::max(0.999 * options_.gap, 0.5 * no_gap) * std::abs(objective_);
}

bool Incumbent::gap_reached() const {
    return has_choice() && gap_of(objective_, bound_) <= std::max(options_.gap, no_gap);
}

double Incumbent::seconds() const {
    const std::chrono::duration<double> since = std::chrono::steady_clock::now() - start_;
    return since.count();
}

double Incumbent::seconds_left() const { return options_.time_limit_s - seconds(); }

bool Incumbent::must_stop() {
    if (options_.progress && !told_to_stop_) {
        told_to_stop_ = !options_.progress({objective_, bound_, seconds()});
    }
    return told_to_stop_ || seconds_left() <= 0.0;
}

void Incumbent::write(Solution& into) const {
    into.choice = choice_;
    into.objective = objective_;
    into.bound = std::min(bound_, objective_);
    into.gap = gap_of(objective_, into.bound);
    into.status = SolveStatus::none_found;
    if (!has_choice()) return;
    into.status = gap_reached() ? SolveStatus::proven : SolveStatus::stopped;
}

}  // namespace lagline
