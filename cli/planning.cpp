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
    if (error != std::errc{} || end != last || !(amount >= 0.0 && amount < 1e15)) {
        return std::nullopt;
    }
    return BudgetChange{text.substr(0, equals), amount};
}

std::string check_budget(const std::string& text) {
    if (read_budget(text)) return "";
    return "'" + printable(text) + "' is not WINDOW=AMOUNT, as in TA-2027=1200000";
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

void add_plan_options(CLI::App& command, PlanRequest& request, PlanOptionsFor use) {
    command.add_option("--budget", request.budgets, "Money of a window in place of its budget")
        ->type_name("WINDOW=AMOUNT")
        ->check(CLI::Validator{check_budget, "", "budget"});
    command.add_option("--gap", request.gap, "Part of the cost that may stay unproven")
        ->type_name("G")
        ->check(CLI::Range(0.0, 1.0).description(""))
        ->capture_default_str();
    command.add_option("--seconds", request.seconds, "Time for the search; then the best so far")
        ->type_name("S")
        ->check(CLI::Range(0.1, 86400.0).description(""))
        ->capture_default_str();
    if (use == PlanOptionsFor::trial) return;
    command.add_flag("!--no-curve", request.curve, "Leave out the plan at other budgets");
}

std::optional<Plan> plan_opened(const Opened& opened, const Ranking& ranking,
                                const PlantOptions& options, const PlanRequest& request) {
    const Plant& plant = *opened.plant;
    PlanOptions plan;
    plan.gap = request.gap;
    plan.time_limit_s = request.seconds;
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
