#include "report/html/report_plan.h"

#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "planning/risk_course.h"
#include "report/layout.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

using S = SegmentField;

std::string summary_of(const Plant& plant, const Plan& plan) {
    std::string text = "Work on " + counted(plan.totals.treated, "segment") + " for " +
                       grouped(std::round(plan.totals.spent())) + " " + plant.description.currency +
                       " leaves expected leaks of " + grouped(std::round(plan.totals.loss)) +
                       " (present value); with nothing done they are " +
                       grouped(std::round(plan.left.loss)) + ". ";
    if (plan.solution.status == SolveStatus::overrun) {
        return text + "The compulsory work does not fit the windows: see the notes.";
    }
    return text + "No plan within the limits costs more than " +
           short_number(100.0 * plan.solution.gap, 2) + " % less.";
}

std::vector<std::string> notes_of(const Plant& plant, const RuleSet& rules, const Plan& plan) {
    std::vector<std::string> notes;
    if (plan.solution.status == SolveStatus::overrun) {
        for (const Overrun& overrun : overruns(plan.totals, plan.windows)) {
            notes.push_back("Compulsory work does not fit: " + name_of_limit(rules, overrun.craft) +
                            " of " + plan.windows[overrun.window].name + " lacks " +
                            grouped(std::ceil(overrun.by)) +
                            (overrun.craft ? " h." : " " + plant.description.currency + "."));
        }
    }
    for (const std::string& pack : plan.packs_apart) {
        notes.push_back("Test pack " + pack + " has no window in common and is planned apart.");
    }
    if (plan.totals.late > 0) {
        notes.push_back(counted(plan.totals.late, "segment") +
                        " reach a criterion before they can be opened.");
    }
    notes.emplace_back(
        "Money counts what may follow an inspection by its chance; shared scaffolds are in the "
        "spending of a window, not in the cost of an action.");
    return notes;
}

PlannedAction action_of(const Plant& plant, const RuleSet& rules, const Plan& plan,
                        std::size_t row) {
    const PlannedSegment& segment = plan.segments[row];
    const Strategy& strategy = plan.strategies.all[segment.strategy];
    const Deadline& deadline = plan.deadlines[row];
    const std::uint32_t group = plan.groups.of_row[row];
    PlannedAction action;
    action.window = plan.windows[strategy.window].name;
    if (group != AccessGroups::none) action.access_group = plan.groups.names[group];
    action.segment = plant.segments.texts(S::segment)[segment.segment_row];
    action.action =
        rules.vocabulary("work_action").words[static_cast<std::size_t>(strategy.action)].meaning;
    action.cost = strategy.money + strategy.follow_money;
    action.compulsory = deadline.window.has_value();
    action.reason = deadline.window
                        ? "reaches the criterion " + std::string{to_string(deadline.criterion)} +
                              " on " + to_string(*deadline.due)
                        : "saves leaks of " +
                              grouped(std::round(segment.loss_if_left - strategy.loss)) + " " +
                              plant.description.currency;
    return action;
}

std::vector<PlannedAction> actions_of(const Plant& plant, const RuleSet& rules, const Plan& plan) {
    std::vector<std::size_t> rows;
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        if (plan.strategies.all[plan.segments[row].strategy].acts) rows.push_back(row);
    }
    std::ranges::stable_sort(rows, {}, [&](std::size_t row) {
        return std::tuple{plan.strategies.all[plan.segments[row].strategy].window,
                          plan.groups.of_row[row], plan.segments[row].rank};
    });
    std::vector<PlannedAction> actions;
    for (const std::size_t row : rows) actions.push_back(action_of(plant, rules, plan, row));
    return actions;
}

}  // namespace

ReportPlan report_plan(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const Plan& plan, const WorkPlan& work) {
    ReportPlan shown;
    shown.summary = summary_of(plant, plan);
    shown.courses.push_back({"with the plan", "the work below, and what may follow it", true,
                             risk_course(plan, plant, rules, ranking, plan.choice(), work)});
    for (const SpendingResult& other : plan.others) {
        shown.courses.push_back({std::string{describe(other.order)},
                                 "the same windows spent down a list", false,
                                 risk_course(plan, plant, rules, ranking, other.choice, work)});
    }
    for (std::size_t w = 0; w < plan.windows.size(); ++w) {
        const PlanWindow& window = plan.windows[w];
        PlannedWindow spent{
            window.name, window.start, window.end, plan.totals.windows[w].money, {}};
        if (std::isfinite(window.budget)) spent.budget = window.budget;
        shown.windows.push_back(std::move(spent));
    }
    shown.actions = actions_of(plant, rules, plan);
    for (const BudgetPoint& point : plan.sweep) {
        if (point.fits) shown.by_budget.push_back({point.budget, point.loss});
    }
    shown.notes = notes_of(plant, rules, plan);
    return shown;
}

}  // namespace lagline
