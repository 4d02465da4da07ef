#include "planning/plan.h"

#include <algorithm>
#include <utility>

#include "choice/choice_check.h"
#include "planning/plan_prices.h"
#include "planning/spending.h"

namespace lagline {
namespace {

constexpr std::size_t near_misses_told = 10;

std::vector<std::uint32_t> nothing_done(const Strategies& strategies) {
    return {strategies.first.begin(), strategies.first.end() - 1};
}

void fill_segments(const Ranking& ranking, Plan& plan) {
    std::vector<std::size_t> rank_of(ranking.rows(), 0);
    for (std::size_t rank = 0; rank < ranking.order.size(); ++rank) {
        rank_of[ranking.order[rank]] = rank + 1;
    }
    plan.segments.resize(plan.futures.rows());
    for (std::size_t row = 0; row < plan.futures.rows(); ++row) {
        PlannedSegment& segment = plan.segments[row];
        segment.segment_row = plan.futures.segment_rows[row];
        segment.rank = rank_of[plan.futures.ranking_rows[row]];
        segment.strategy = plan.strategies.first[row];
        segment.loss_if_left = plan.strategies.leave(row).loss;
    }
}

SolveOptions solve_options(const PlanOptions& options, const WorkPlan& work) {
    SolveOptions solve;
    solve.gap = options.gap;
    solve.time_limit_s = options.time_limit_s;
    solve.threads = work.threads;
    solve.progress = options.progress;
    return solve;
}

// What is told of a choice is of the cheapest scaffolds for it.
void settle(const PlanProblem& problem, Solution& solution) {
    if (solution.choice.empty()) return;
    settle_scaffolds(problem, solution.choice);
    const ChoiceCheck check = check_choice(problem.problem, solution.choice);
    solution.objective = objective_of(problem.problem, check);
    solution.bound = std::min(solution.bound, solution.objective);
    solution.gap = gap_of(solution.objective, solution.bound);
    solution.overrun = check.overrun;
    solution.weighted_overrun = check.weighted_overrun;
}

PlanTotals totals(const Plan& plan, std::span<const std::uint32_t> choice) {
    return totals_of(plan.strategies, plan.groups, plan.windows, plan.deadlines,
                     plan.futures.horizon, choice);
}

// Where nothing fits, the limits that gave way have no price.
void take_prices(const PlanProblem& problem, const WorkPlan& work, Plan& plan) {
    const PlanPrices prices(plan, problem, work.threads);
    const auto waiting = prices.costs_of_waiting();
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        plan.segments[row].cost_of_waiting = waiting[row];
    }
    plan.near_misses = prices.near_misses(near_misses_told);
}

// What the optimiser found, and what it says beside it.
void take_solution(const PlanProblem& problem, const PlanOptions& options, const WorkPlan& work,
                   Plan& plan) {
    if (plan.solution.choice.empty()) return;
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        plan.segments[row].strategy = problem.strategy_of[plan.solution.choice[row]];
    }
    plan.totals = totals(plan, plan.choice());
    plan.totals.overrun_charge =
        problem.problem.resources.overrun_charge * plan.solution.weighted_overrun;
    if (plan.solution.status != SolveStatus::overrun) take_prices(problem, work, plan);
    if (options.sweep_points == 0) return;
    SolveOptions each = solve_options(options, work);
    each.gap = std::max(options.gap, options.sweep_gap);
    each.time_limit_s = std::max(1.0, options.time_limit_s / 4.0);  // most take far less
    plan.sweep = budget_sweep(plan, problem, options.sweep_points, each);
}

}  // namespace

std::vector<std::uint32_t> Plan::choice() const {
    std::vector<std::uint32_t> chosen;
    chosen.reserve(segments.size());
    for (const PlannedSegment& segment : segments) chosen.push_back(segment.strategy);
    return chosen;
}

Plan make_plan(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
               const PlanOptions& options, const WorkPlan& work) {
    WorkPlan silent = work;
    silent.counter = nullptr;
    Plan plan;
    plan.futures = futures(plant, rules, ranking, silent);
    plan.windows = plan_windows(plant, plan.futures.horizon.years, options.budgets);
    plan.strategies = find_strategies(plant, rules, ranking, plan.futures, plan.windows, work);
    plan.groups = access_groups(plant, rules, plan.futures);
    plan.deadlines = find_deadlines(ranking, plan.futures, plan.windows, plan.strategies);
    plan.rule_prices = prices_of_the_rules(plant);
    plan.engineer_now = ranking.outlook->engineer_now;
    fill_segments(ranking, plan);
    plan.left = totals(plan, nothing_done(plan.strategies));
    plan.totals = plan.left;

    const PlanRules prices = plan_rules(rules, plant);
    PlanProblem problem = plan_problem(
        {plant, plan.futures, plan.strategies, plan.groups, plan.windows, plan.deadlines, prices});
    plan.resources = problem.resources;
    plan.packs_apart = problem.packs_apart;
    plan.solution = options.found ? solution_of(*options.found, problem, plan.strategies)
                                  : solve_by_prices(problem.problem, solve_options(options, work));
    settle(problem, plan.solution);
    take_solution(problem, options, work, plan);
    plan.others = other_spending(plan, plant, prices.interval_years);
    return plan;
}

}  // namespace lagline
