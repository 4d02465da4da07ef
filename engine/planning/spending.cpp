#include "planning/spending.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr double rounding = 1e-9;

/// Money and hours of a window as they are spent.
struct Purse {
    double money = 0.0;
    CraftHours hours{};
    std::map<std::uint32_t, double> scaffolds;  ///< by group: chances of those that need it
};

// The day since which the coating, or else the pipe, has been there.
std::int32_t coated_since(const Plant& plant, std::uint32_t segment) {
    const SegmentSheet& sheet = plant.segments;
    if (sheet.has(S::coating_date, segment)) return sheet.days(S::coating_date)[segment];
    return sheet.days(S::in_service)[segment];
}

// The last day on which somebody saw the steel or measured the wall, or it was coated.
std::int32_t looked_at(const Plant& plant, std::uint32_t segment) {
    std::int32_t day = coated_since(plant, segment);
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::int32_t seen = plant.inspections.days(I::date)[plant.inspection_order[i]];
        if (seen <= plant.today.days) day = std::max(day, seen);
    }
    return day;
}

class Spender {
  public:
    Spender(const Plan& plan, const Plant& plant, double interval_years)
        : plan_(plan),
          plant_(plant),
          interval_years_(interval_years),
          purses_(plan.windows.size()) {}

    SpendingResult spend(SpendingOrder order) {
        purses_.assign(plan_.windows.size(), {});
        choice_.assign(plan_.strategies.first.begin(), plan_.strategies.first.end() - 1);
        const auto rows = rows_in_order(order);
        for (std::size_t w = 0; w < plan_.windows.size(); ++w) {
            for (const std::size_t row : rows) {
                if (plan_.strategies.all[choice_[row]].acts || !is_open(order, row, w)) continue;
                work_on(row, w, order);
            }
        }
        return {order,
                totals_of(plan_.strategies, plan_.groups, plan_.windows, plan_.deadlines,
                          plan_.futures.horizon, choice_),
                choice_};
    }

  private:
    [[nodiscard]] std::vector<std::size_t> rows_in_order(SpendingOrder order) const {
        std::vector<std::size_t> rows(plan_.futures.rows());
        std::iota(rows.begin(), rows.end(), std::size_t{0});
        const auto by = [&](auto key) { std::ranges::stable_sort(rows, {}, key); };
        const auto segment = [&](std::size_t row) { return plan_.futures.segment_rows[row]; };
        switch (order) {
            case SpendingOrder::rank:
            case SpendingOrder::rank_best:
                by([&](std::size_t row) { return plan_.segments[row].rank; });
                break;
            case SpendingOrder::age:
                by([&](std::size_t row) { return coated_since(plant_, segment(row)); });
                break;
            case SpendingOrder::interval:
                by([&](std::size_t row) { return looked_at(plant_, segment(row)); });
                break;
        }
        return rows;
    }

    [[nodiscard]] bool is_open(SpendingOrder order, std::size_t row, std::size_t w) const {
        if (order != SpendingOrder::interval) return true;
        const Date since{looked_at(plant_, plan_.futures.segment_rows[row])};
        return years_between(since, plan_.windows[w].start) >= interval_years_;
    }

    void work_on(std::size_t row, std::size_t w, SpendingOrder order) {
        const auto strategies = plan_.strategies.of(row);
        const Strategy* best = nullptr;
        for (const Strategy& strategy : strategies) {
            if (!strategy.acts || strategy.window != w) continue;
            if (order != SpendingOrder::rank_best && strategy.action != WorkAction::strip_recoat) {
                continue;
            }
            const bool pays =
                order != SpendingOrder::rank_best ||
                strategy.value() < (best != nullptr ? best->value() : strategies.front().value());
            if (pays && fits(strategy, row)) best = &strategy;
        }
        if (best == nullptr) return;
        take(*best, row);
        choice_[row] =
            plan_.strategies.first[row] + static_cast<std::uint32_t>(best - strategies.data());
    }

    // The part of its group's scaffold that comes to what a window pays already.
    [[nodiscard]] double more_scaffold(const Strategy& strategy, std::uint32_t group,
                                       std::size_t w) const {
        if (!plan_.groups.needs_scaffold(group)) return 0.0;
        const auto known = purses_[w].scaffolds.find(group);
        const double needed = known == purses_[w].scaffolds.end() ? 0.0 : known->second;
        return std::min(1.0, needed + strategy.scaffold_in(w)) - std::min(1.0, needed);
    }

    // What a strategy adds to a window.
    [[nodiscard]] std::pair<double, CraftHours> addition(const Strategy& strategy, std::size_t row,
                                                         std::size_t w) const {
        double money = strategy.money_in(w);
        CraftHours hours = strategy.hours_in(w);
        const std::uint32_t group = plan_.groups.of_row[row];
        if (const double more = more_scaffold(strategy, group, w); more > 0.0) {
            money += more * plan_.groups.money[group];
            hours[static_cast<std::size_t>(Craft::scaffold)] += more * plan_.groups.hours[group];
        }
        return {money, hours};
    }

    [[nodiscard]] bool fits(const Strategy& strategy, std::size_t row) const {
        for (std::size_t w = 0; w < purses_.size(); ++w) {
            const auto [money, hours] = addition(strategy, row, w);
            const PlanWindow& window = plan_.windows[w];
            if (purses_[w].money + money > window.budget * (1.0 + rounding)) return false;
            for (std::size_t craft = 0; craft < crafts; ++craft) {
                if (purses_[w].hours[craft] + hours[craft] >
                    window.hours[craft] * (1.0 + rounding)) {
                    return false;
                }
            }
        }
        return true;
    }

    void take(const Strategy& strategy, std::size_t row) {
        for (std::size_t w = 0; w < purses_.size(); ++w) {
            const auto [money, hours] = addition(strategy, row, w);
            purses_[w].money += money;
            for (std::size_t craft = 0; craft < crafts; ++craft) {
                purses_[w].hours[craft] += hours[craft];
            }
        }
        const std::uint32_t group = plan_.groups.of_row[row];
        for (std::size_t w = 0; w < purses_.size(); ++w) {
            if (strategy.scaffold_in(w) > 0.0)
                purses_[w].scaffolds[group] += strategy.scaffold_in(w);
        }
    }

    const Plan& plan_;
    const Plant& plant_;
    double interval_years_;
    std::vector<Purse> purses_;
    std::vector<std::uint32_t> choice_;
};

}  // namespace

std::string_view describe(SpendingOrder order) {
    switch (order) {
        case SpendingOrder::rank:
            return "in order of rank, strip and recoat";
        case SpendingOrder::rank_best:
            return "in order of rank, what saves most";
        case SpendingOrder::age:
            return "oldest coating first, strip and recoat";
        case SpendingOrder::interval:
            return "at a fixed interval, strip and recoat";
    }
    return "";
}

std::vector<SpendingResult> other_spending(const Plan& plan, const Plant& plant,
                                           double interval_years) {
    Spender spender(plan, plant, interval_years);
    std::vector<SpendingResult> results;
    for (const SpendingOrder order : spending_orders) results.push_back(spender.spend(order));
    return results;
}

}  // namespace lagline
