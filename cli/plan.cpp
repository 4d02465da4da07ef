#include "planning/plan.h"

#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/planning.h"
#include "cli/session.h"
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
    std::optional<std::string> out;
};

std::string as_text(const PlanArguments& arguments, const Opened& opened, const Ranking& ranking,
                    const Plan& plan) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    if (arguments.format == "csv") return plan_csv(plant, rules, plan);
    if (arguments.format == "json") return plan_json(plant, rules, plan);
    const TextStyle style = style_for(arguments.out, 100);
    if (arguments.format == "scope") return scope_text(plant, rules, ranking, plan, style);
    return plan_text(plant, rules, plan, arguments.top, style);
}

int run(const PlanArguments& arguments) {
    if (const int refused = refuse_without_out(arguments.format, arguments.out); refused != done) {
        return refused;
    }
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_with_outlook(*opened, arguments.plant, 0);
    const auto plan = plan_opened(*opened, ranking, arguments.plant, arguments.request);
    if (!plan) return bad_input;
    if (arguments.format == workbook_format) {
        return deliver(plan_xlsx(*opened->plant, *opened->rules, ranking, *plan), arguments.out);
    }
    return deliver(as_text(arguments, *opened, ranking, *plan), arguments.out);
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
    add_format_option(command, arguments->format, "table, csv, json, scope, or xlsx with --out",
                      {"table", "csv", "json", "scope", "xlsx"});
    add_out_option(command, arguments->out);
    command.footer(
        "One way for each segment through the windows of turnarounds.csv that are to come:\n"
        "leave it, or one action in one window. Chosen together, so that work and expected\n"
        "leaks cost least over the years ahead, within budgets and craft hours. A scaffold\n"
        "is paid once for its group. Segments that reach a criterion of plant.yaml before\n"
        "the chance after next must be opened. How near the plan is to the best is proven.\n\n"
        "  lagline plan my-plant\n"
        "  lagline plan my-plant --budget TA-2027=1200000 --budget OS-2028=0\n"
        "  lagline plan my-plant --format csv --out plan.csv\n"
        "  lagline plan my-plant --format xlsx --out plan.xlsx\n"
        "  lagline plan my-plant --format scope --out scope.txt");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
