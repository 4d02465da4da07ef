#include "planning/risk_course.h"

#include "blocks/pool.h"
#include "planning/actions.h"

namespace lagline {
namespace {

constexpr std::size_t rows_a_block = 64;

void add(std::span<const double> curve, double factor, std::vector<double>& sum) {
    for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += factor * curve[i];
}

// By damage state, the chance that it holds and that the inspection leads to `reaction`.
std::array<double, damage_states> parts_of(const InspectionTree& tree, std::size_t reaction,
                                           const std::array<double, damage_states>& states) {
    std::array<double, damage_states> parts{};
    for (std::size_t j = 0; j < tree.outcome_count(); ++j) {
        if (tree.outcomes[j].best != reaction) continue;
        for (std::size_t k = 0; k < damage_states; ++k) {
            parts[k] += states[k] * (tree.by_states ? tree.outcome_given_state[k][j] : 1.0);
        }
    }
    return parts;
}

class CourseMaker {
  public:
    CourseMaker(const Plan& plan, const Plant& plant, const RuleSet& rules, const Ranking& ranking)
        : plan_(plan), planner_(plant, rules, ranking, plan.futures, plan.windows) {}

    void add_row(std::size_t row, const Strategy& strategy, std::vector<double>& risk) {
        const double leak = plan_.futures.leak_cost[static_cast<Eigen::Index>(row)];
        if (!strategy.acts) {
            add(planner_.losses().probabilities(row, {}), leak, risk);
            return;
        }
        planner_.start(row);
        const bool later =
            planner_.can_follow_later(strategy.action, strategy.window) && strategy.follows_later();
        const ActionStudy study = planner_.study(strategy.action, strategy.window, later);
        if (!study.inspects) {
            add(planner_.losses().probabilities(row, planner_.treatments(study, 0)), leak, risk);
            return;
        }
        const auto states = plan_.futures.states(row);
        for (std::size_t r = 0; r < study.tree.reaction_count; ++r) {
            add(planner_.losses().probabilities(row, planner_.treatments(study, r),
                                                parts_of(study.tree, r, states)),
                leak, risk);
        }
    }

  private:
    const Plan& plan_;
    ActionPlanner planner_;
};

}  // namespace

std::vector<double> risk_course(const Plan& plan, const Plant& plant, const RuleSet& rules,
                                const Ranking& ranking, std::span<const std::uint32_t> choice,
                                const WorkPlan& work) {
    const std::size_t dates = plan.futures.dates.size();
    WorkPlan blocks = work;
    blocks.block_rows = rows_a_block;
    std::vector<std::vector<double>> parts((choice.size() + rows_a_block - 1) / rows_a_block,
                                           std::vector<double>(dates, 0.0));
    Pool<CourseMaker> makers;
    for_each_block(choice.size(), blocks, [&](std::size_t block, RowRange range) {
        auto maker =
            makers.take([&] { return std::make_unique<CourseMaker>(plan, plant, rules, ranking); });
        for (std::size_t row = range.begin; row < range.end; ++row) {
            maker->add_row(row, plan.strategies.all[choice[row]], parts[block]);
        }
        makers.give_back(std::move(maker));
    });
    std::vector<double> risk(dates, 0.0);
    for (const auto& part : parts) add(part, 1.0, risk);
    return risk;
}

}  // namespace lagline
