#include "planning/windows.h"

#include <algorithm>

#include "quantity/date.h"

namespace lagline {
namespace {

using T = TurnaroundField;

constexpr double endless = std::numeric_limits<double>::infinity();

// Words of `window_kind`: turnaround, on_stream.
WorkState state_of(const TurnaroundSheet& sheet, std::size_t row) {
    return sheet.codes(T::kind)[row] == 0 ? WorkState::shutdown : WorkState::on_stream;
}

double limit(const TurnaroundSheet& sheet, T field, std::size_t row) {
    if (!sheet.has(field, row)) return endless;
    return sheet.numbers(field)[row];
}

}  // namespace

std::vector<PlanWindow> plan_windows(const Plant& plant, int horizon_years,
                                     std::span<const BudgetChange> budgets) {
    const TurnaroundSheet& sheet = plant.turnarounds;
    std::vector<PlanWindow> windows;
    for (std::size_t row = 0; row < sheet.rows(); ++row) {
        PlanWindow window;
        window.name = sheet.texts(T::name)[row];
        window.state = state_of(sheet, row);
        window.start = Date{sheet.days(T::start)[row]};
        window.end = Date{sheet.days(T::end)[row]};
        window.at_years = std::max(0.0, years_between(plant.today, window.start));
        if (window.end < plant.today || window.at_years >= horizon_years) continue;
        window.months = months_between(std::max(window.start, plant.today), window.end);
        window.budget = limit(sheet, T::budget, row);
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            const auto field = static_cast<T>(index_of(T::scaffold_hours) + craft);
            window.hours[craft] = limit(sheet, field, row);
        }
        for (const BudgetChange& change : budgets) {
            if (change.window == window.name) window.budget = change.amount;
        }
        windows.push_back(std::move(window));
    }
    std::ranges::stable_sort(windows, {}, [](const PlanWindow& w) { return w.start; });
    return windows;
}

std::vector<std::string> unknown_windows(std::span<const PlanWindow> windows,
                                         std::span<const BudgetChange> budgets) {
    std::vector<std::string> unknown;
    for (const BudgetChange& change : budgets) {
        const bool known = std::ranges::any_of(
            windows, [&](const PlanWindow& window) { return window.name == change.window; });
        if (!known) unknown.push_back(change.window);
    }
    return unknown;
}

}  // namespace lagline
