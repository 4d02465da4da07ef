#include "planning/strategies.h"

#include "blocks/pool.h"

namespace lagline {
namespace {

Strategy strategy_of(const ActionStudy& study) {
    Strategy found;
    found.acts = true;
    found.action = study.action;
    found.window = static_cast<std::uint16_t>(study.window);
    found.follow_window = static_cast<std::uint16_t>(study.follow_window);
    if (study.coating) found.coating = study.coating->system;
    found.money = study.committed.sum();
    found.follow_money = study.expected_follow;
    found.hours = study.quantities.hours;
    found.follow_hours = study.expected_hours;
    found.cost = study.cost;
    found.loss = study.loss;
    found.follow_chance = study.follow_chance;
    found.cautions = study.cautions;
    return found;
}

void add_strategies(ActionPlanner& planner, std::size_t row, std::size_t windows,
                    Strategies& into) {
    planner.start(row);
    Strategy leave;
    leave.loss = planner.loss_if_left();
    into.all.push_back(leave);
    for (std::size_t window = 0; window < windows; ++window) {
        for (std::size_t action = 0; action < work_actions; ++action) {
            const auto each = static_cast<WorkAction>(action);
            const ActionStudy study = planner.study(each, window);
            if (study.refusal != ActionRefusal::none) continue;
            into.all.push_back(strategy_of(study));
            if (!planner.can_follow_later(each, window)) continue;
            into.all.push_back(strategy_of(planner.study(each, window, true)));
        }
    }
    into.first.push_back(static_cast<std::uint32_t>(into.all.size()));
}

// Chances of outcomes add up to 1 but for this.
constexpr double sum_rounding = 1e-9;

// Blocks small enough that the last one does not keep a thread waiting.
constexpr std::size_t rows_a_block = 64;

}  // namespace

double Strategy::money_in(std::size_t w) const {
    if (!acts) return 0.0;
    return (w == window ? money : 0.0) + (w == follow_window ? follow_money : 0.0);
}

double Strategy::scaffold_in(std::size_t w) const {
    if (!acts) return 0.0;
    if (w == window) return 1.0;
    if (w != follow_window) return 0.0;
    return follow_chance > 1.0 - sum_rounding ? 1.0 : follow_chance;
}

CraftHours Strategy::hours_in(std::size_t w) const {
    CraftHours sum{};
    if (!acts) return sum;
    for (std::size_t craft = 0; craft < crafts; ++craft) {
        if (w == window) sum[craft] += hours[craft];
        if (w == follow_window) sum[craft] += follow_hours[craft];
    }
    return sum;
}

Strategies find_strategies(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                           const Futures& futures, std::span<const PlanWindow> windows,
                           const WorkPlan& plan) {
    WorkPlan blocks = plan;
    blocks.block_rows = rows_a_block;
    std::vector<Strategies> parts((futures.rows() + rows_a_block - 1) / rows_a_block);
    Pool<ActionPlanner> planners;
    for_each_block(futures.rows(), blocks, [&](std::size_t block, RowRange range) {
        auto planner = planners.take([&] {
            return std::make_unique<ActionPlanner>(plant, rules, ranking, futures, windows);
        });
        for (std::size_t row = range.begin; row < range.end; ++row) {
            add_strategies(*planner, row, windows.size(), parts[block]);
        }
        planners.give_back(std::move(planner));
    });
    Strategies all;
    for (const Strategies& part : parts) {
        const auto before = static_cast<std::uint32_t>(all.all.size());
        all.all.insert(all.all.end(), part.all.begin(), part.all.end());
        for (std::size_t row = 1; row < part.first.size(); ++row) {
            all.first.push_back(before + part.first[row]);
        }
    }
    return all;
}

}  // namespace lagline
