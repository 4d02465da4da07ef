#include "planning/plan_totals.h"

#include <algorithm>
#include <map>
#include <utility>

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

const ScaffoldUse* PlanTotals::scaffold(std::size_t window, std::uint32_t group) const {
    const auto found = std::ranges::lower_bound(scaffolds, std::pair{window, group}, {},
                                                [](const ScaffoldUse& use) {
                                                    return std::pair{use.window, use.group};
                                                });
    const bool there = found != scaffolds.end() && found->window == window && found->group == group;
    return there ? &*found : nullptr;
}

PlanTotals totals_of(const Strategies& strategies, const AccessGroups& groups,
                     std::span<const PlanWindow> windows, std::span<const Deadline> deadlines,
                     const Horizon& horizon, std::span<const std::uint32_t> choice) {
    PlanTotals totals;
    totals.windows.resize(windows.size());
    std::map<std::pair<std::size_t, std::uint32_t>, double> needed;  // by window and group
    for (std::size_t row = 0; row < choice.size(); ++row) {
        const Strategy& strategy = strategies.all[choice[row]];
        totals.cost += strategy.cost;
        totals.loss += strategy.loss;
        totals.treated += strategy.acts ? 1U : 0U;
        totals.late += is_late(deadlines[row], strategy) ? 1U : 0U;
        add_strategy(strategy, totals.windows);
        const std::uint32_t group = groups.of_row[row];
        if (!strategy.acts || !groups.needs_scaffold(group)) continue;
        for (std::size_t w = 0; w < windows.size(); ++w) {
            const double chance = strategy.scaffold_in(w);
            if (chance > 0.0) needed[{w, group}] += chance;
        }
    }
    for (const auto& [at, chances] : needed) {
        const auto [w, group] = at;
        const double share = std::min(1.0, chances);
        const ScaffoldUse use{
            w, group, chances, share, share * groups.money[group], share * groups.hours[group]};
        WindowTotals& window = totals.windows[w];
        window.money += use.money;
        window.scaffold_money += use.money;
        window.hours[static_cast<std::size_t>(Craft::scaffold)] += use.hours;
        ++window.scaffolds;
        totals.cost += use.money * horizon.discount(windows[w].at_years);
        totals.scaffolds.push_back(use);
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
