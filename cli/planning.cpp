#include "cli/planning.h"

#include <charconv>
#include <iostream>

#include "cli/progress.h"
#include "diagnostics/text.h"

namespace lagline::cli {
namespace {

// WINDOW=AMOUNT, the amount a number from 0 on.
std::optional<BudgetChange> read_budget(const std::string& text) {
    const auto equals = text.rfind('=');
    if (equals == std::string::npos || equals == 0) return std::nullopt;
    const char* const first = text.data() + equals + 1;
    const char* const last = text.data() + text.size();
    double amount = 0.0;
    const auto [end, error] = std::from_chars(first, last, amount);
    if (error != std::errc{} || end != last || !(amount >= 0.0 && amount <= 1e12)) {
        return std::nullopt;
    }
    return BudgetChange{text.substr(0, equals), amount};
}

std::string check_budget(const std::string& text) {
    if (read_budget(text)) return "";
    return "'" + printable(text) +
           "' is not WINDOW=AMOUNT, as in TA-2027=1200000, with an amount "
           "between 0 and 1000000000000";
}

bool names_windows(const Plant& plant, const std::vector<PlanWindow>& windows,
                   const std::vector<BudgetChange>& budgets) {
    const auto unknown = unknown_windows(windows, budgets);
    for (const std::string& name : unknown) {
        std::cerr << "lagline: --budget: no window '" << printable(name) << "' after "
                  << to_string(plant.today) << "; there is";
        for (const PlanWindow& window : windows) std::cerr << " " << printable(window.name);
        std::cerr << "\n";
    }
    return unknown.empty();
}

}  // namespace

void add_plan_options(Command& command, PlanRequest& request, PlanOptionsFor use) {
    command.option("--budget", &request.budgets, "Money of a window in place of its budget")
        .value_name("WINDOW=AMOUNT")
        .check(check_budget, "budget");
    command.option("--gap", &request.gap, "Part of the cost that may stay unproven")
        .value_name("G")
        .between(0.0, 1.0)
        .shows_default();
    command.option("--seconds", &request.seconds, "Time for the search; then the best so far")
        .value_name("S")
        .between(0.1, 86400.0)
        .shows_default();
    if (use == PlanOptionsFor::trial) return;
    command.flag("!--no-curve", request.curve, "Leave out the plan at other budgets");
}

std::optional<Plan> plan_opened(const Opened& opened, const Ranking& ranking,
                                const PlantOptions& options, const PlanRequest& request) {
    const Plant& plant = *opened.plant;
    PlanOptions plan;
    plan.gap = request.gap;
    plan.time_limit_s = request.seconds;
    plan.found = request.found;
    if (!request.curve) plan.sweep_points = 0;
    for (const std::string& text : request.budgets) plan.budgets.push_back(*read_budget(text));
    const auto windows = plan_windows(plant, horizon_of(*opened.rules).years);
    if (windows.empty()) {
        std::cerr << "lagline: turnarounds.csv has no window after " << to_string(plant.today)
                  << " to plan for: add the next ones\n";
        return std::nullopt;
    }
    if (!names_windows(plant, windows, plan.budgets)) return std::nullopt;
    Progress progress{"weighing actions"};
    return make_plan(plant, *opened.rules, ranking, plan,
                     {options.block_rows, options.threads, progress.counter()});
}

}  // namespace lagline::cli
