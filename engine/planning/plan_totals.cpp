#include "planning/plan_totals.h"

#include <algorithm>
#include <set>

namespace lagline {
namespace {

// Part of a limit by which sums of doubles may differ.
constexpr double rounding = 1e-9;

void add_strategy(const Strategy& strategy, std::vector<WindowTotals>& windows) {
    if (!strategy.acts) return;
    for (std::size_t w = 0; w < windows.size(); ++w) {
        windows[w].money += strategy.money_in(w);
        const CraftHours hours = strategy.hours_in(w);
        for (std::size_t craft = 0; craft < crafts; ++craft)
            windows[w].hours[craft] += hours[craft];
    }
    ++windows[strategy.window].actions[static_cast<std::size_t>(strategy.action)];
}

bool is_late(const Deadline& deadline, const Strategy& strategy) {
    if (!deadline.window) return false;
    return !strategy.opens() || strategy.window > *deadline.window;
}

}  // namespace

double PlanTotals::spent() const {
    double sum = 0.0;
    for (const WindowTotals& window : windows) sum += window.money;
    return sum;
}

PlanTotals totals_of(const Strategies& strategies, const AccessGroups& groups,
                     std::span<const PlanWindow> windows, std::span<const Deadline> deadlines,
                     const Horizon& horizon, std::span<const std::uint32_t> choice) {
    PlanTotals totals;
    totals.windows.resize(windows.size());
    std::set<std::pair<std::size_t, std::uint32_t>> scaffolds;  // window, group
    for (std::size_t row = 0; row < choice.size(); ++row) {
        const Strategy& strategy = strategies.all[choice[row]];
        totals.cost += strategy.cost;
        totals.loss += strategy.loss;
        totals.treated += strategy.acts ? 1U : 0U;
        totals.late += is_late(deadlines[row], strategy) ? 1U : 0U;
        add_strategy(strategy, totals.windows);
        const std::uint32_t group = groups.of_row[row];
        if (strategy.acts && groups.needs_scaffold(group)) {
            scaffolds.emplace(strategy.window, group);
        }
    }
    for (const auto& [w, group] : scaffolds) {
        WindowTotals& window = totals.windows[w];
        window.money += groups.money[group];
        window.scaffold_money += groups.money[group];
        window.hours[static_cast<std::size_t>(Craft::scaffold)] += groups.hours[group];
        ++window.scaffolds;
        totals.cost += groups.money[group] * horizon.discount(windows[w].at_years);
    }
    return totals;
}

std::vector<Overrun> overruns(const PlanTotals& totals, std::span<const PlanWindow> windows) {
    std::vector<Overrun> found;
    const auto compare = [&](std::size_t w, std::optional<Craft> craft, double used, double limit) {
        if (used > limit + rounding * std::max(1.0, limit))
            found.push_back({w, craft, used - limit});
    };
    for (std::size_t w = 0; w < windows.size(); ++w) {
        compare(w, std::nullopt, totals.windows[w].money, windows[w].budget);
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            compare(w, static_cast<Craft>(craft), totals.windows[w].hours[craft],
                    windows[w].hours[craft]);
        }
    }
    return found;
}

}  // namespace lagline
