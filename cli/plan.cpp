#include "planning/plan.h"

#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/planning.h"
#include "cli/session.h"
#include "cli/stored_plans.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "report/findings_csv.h"
#include "report/html/work_pack.h"
#include "report/plan_data.h"
#include "report/plan_text.h"
#include "report/scope_text.h"
#include "report/xlsx/result_workbook.h"

namespace lagline::cli {
namespace {

struct PlanArguments {
    PlantOptions plant;
    PlanRequest request;
    std::size_t top = 40;
    std::string format = "table";
    std::optional<std::string> window;
    StoreOptions store;
    OutFile out;

    [[nodiscard]] bool tells_sheets() const {
        return format == "scope" || format == "pack" || format == "findings";
    }
};

// The window that --window names; nothing, and a message, where there is none of that name.
std::optional<std::size_t> find_window(const Plan& plan, const std::string& name) {
    const auto found = std::ranges::find(plan.windows, name, &PlanWindow::name);
    if (found != plan.windows.end()) {
        return static_cast<std::size_t>(found - plan.windows.begin());
    }
    std::vector<std::string_view> names;
    for (const PlanWindow& window : plan.windows) names.push_back(window.name);
    std::cerr << "lagline: --window: no window '" << printable(name) << "' to plan for; there are "
              << listing(names, 20) << "\n";
    return std::nullopt;
}

std::string sheets_text(const PlanArguments& arguments, const Opened& opened,
                        const Ranking& ranking, const Plan& plan,
                        std::optional<std::size_t> window) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    if (arguments.format == "pack") {
        return work_pack(plant, rules, ranking, plan, window, LAGLINE_VERSION);
    }
    if (arguments.format == "findings") {
        return findings_csv(plant, rules, scope_sheets(plant, rules, ranking, plan, window));
    }
    return scope_text(plant, rules, ranking, plan, style_for(arguments.out, 100), window);
}

std::string as_text(const PlanArguments& arguments, const Opened& opened, const Plan& plan) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    if (arguments.format == "csv") return plan_csv(plant, rules, plan);
    if (arguments.format == "json") return plan_json(plant, rules, plan);
    return plan_text(plant, rules, plan, arguments.top, style_for(arguments.out, 100));
}

int store_plan(const PlanArguments& arguments, const Opened& opened, const Ranking& ranking,
               const Plan& plan) {
    if (plan.solution.choice.empty()) {
        std::cerr << "lagline: no plan was found in the time given; nothing was stored\n";
        return failed;
    }
    return store(plan_as_run(opened, arguments.plant, arguments.request, ranking, plan),
                 arguments.store.file(arguments.plant.folder));
}

int run(const PlanArguments& arguments) {
    if (const int refused = refuse_without_out(arguments.format, arguments.out); refused != done) {
        return refused;
    }
    if (arguments.window && !arguments.tells_sheets()) {
        std::cerr << "lagline: --window goes with --format scope, pack or findings: the plan "
                     "itself is made for all windows together\n";
        return wrong_use;
    }
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_with_outlook(*opened, arguments.plant, 0);
    const auto plan = plan_opened(*opened, ranking, arguments.plant, arguments.request);
    if (!plan) return bad_input;
    if (arguments.store.stores()) {
        const int stored = store_plan(arguments, *opened, ranking, *plan);
        if (stored != done) return stored;
    }
    if (arguments.format == workbook_format) {
        return deliver(plan_xlsx(*opened->plant, *opened->rules, ranking, *plan), arguments.out);
    }
    if (!arguments.tells_sheets()) {
        return deliver(as_text(arguments, *opened, *plan), arguments.out);
    }
    std::optional<std::size_t> window;
    if (arguments.window && !(window = find_window(*plan, *arguments.window))) return bad_input;
    return deliver(sheets_text(arguments, *opened, ranking, *plan, window), arguments.out);
}

}  // namespace

void add_plan(Command& program) {
    Command command =
        program.add_command("plan", "Plan the work on each segment, window by window");
    auto arguments = std::make_shared<PlanArguments>();
    add_plant_options(command, arguments->plant);
    add_plan_options(command, arguments->request);
    command.option("--top", &arguments->top, "Rows of work to print, 0 for all")
        .value_name("N")
        .count()
        .shows_default();
    add_format_option(command, arguments->format, "table, csv, json, xlsx with --out, or sheets",
                      {"table", "csv", "json", "xlsx", "scope", "pack", "findings"});
    command.option("--window", &arguments->window, "The only window to give sheets for")
        .value_name("WINDOW");
    add_out_option(command, arguments->out);
    add_store_options(command, arguments->store);
    command.footer(
        "One way for each segment through the windows of turnarounds.csv to come: leave\n"
        "it, or one action in one window. Chosen together, so that work and expected\n"
        "leaks cost least over the years ahead, within budgets and craft hours. A\n"
        "scaffold is paid once for its group. Segments that reach a criterion of\n"
        "plant.yaml before the chance after next must be opened. How near the plan is to\n"
        "the best is proven.\n\n"
        "  lagline plan my-plant\n"
        "  lagline plan my-plant --budget TA-2027=1200000 --budget OS-2028=0\n"
        "  lagline plan my-plant --format csv --out plan.csv\n"
        "  lagline plan my-plant --format xlsx --out plan.xlsx\n"
        "  lagline plan my-plant --format scope --out scope.txt\n\n"
        "--store keeps the plan with its ranking, as `lagline rank --store` does; one\n"
        "whose search ran out of time goes with the choice it found (docs/ledger.md).\n\n"
        "What is to be done in the field, by window and scaffold group: scope, to read;\n"
        "pack, a page to print on A4, with cautions and tables for the findings;\n"
        "findings, the same table to type them into, for `lagline record`.\n\n"
        "  lagline plan my-plant --format pack --window TA-2027 --out pack.html\n"
        "  lagline plan my-plant --format findings --window TA-2027 --out findings.csv");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
