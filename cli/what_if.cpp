#include "intake/what_if.h"

#include "cli/app.h"
#include "cli/output.h"
#include "cli/planning.h"
#include "cli/session.h"
#include "report/what_if_text.h"

namespace lagline::cli {
namespace {

struct WhatIfArguments {
    PlantOptions plant;
    PlanRequest request;
    std::vector<std::string> changes;
    std::size_t top = 20;
    OutFile out;
};

std::string check_change(const std::string& text) {
    if (read_trial_change(text)) return "";
    return "'" + text + "' is not SEGMENT.COLUMN=VALUE, as in S-00012.coating_system=none";
}

int run(const WhatIfArguments& arguments) {
    PlanRequest request = arguments.request;
    request.curve = false;
    PlanRequest as_it_is = request;
    as_it_is.budgets.clear();
    const auto before = open_or_report(arguments.plant);
    if (!before) return bad_input;
    std::vector<TrialChange> changes;
    for (const std::string& text : arguments.changes) changes.push_back(*read_trial_change(text));
    const auto after = open_changed(*before, arguments.plant, changes);
    if (!after) return bad_input;

    const Ranking ranked = rank_with_outlook(*before, arguments.plant, 0);
    const auto planned = plan_opened(*before, ranked, arguments.plant, as_it_is);
    if (!planned) return bad_input;
    const Ranking reranked = rank_with_outlook(*after, arguments.plant, 0);
    const auto replanned = plan_opened(*after, reranked, arguments.plant, request);
    if (!replanned) return bad_input;
    return deliver(
        what_if_text({*before->plant, ranked, *planned}, {*after->plant, reranked, *replanned},
                     arguments.top, style_for(arguments.out, 100)),
        arguments.out);
}

}  // namespace

void add_what_if(Command& program) {
    Command command = program.add_command("what-if", "Rank and plan with other values on trial");
    auto arguments = std::make_shared<WhatIfArguments>();
    add_plant_options(command, arguments->plant);
    command.option("--set", &arguments->changes, "A value of segments.csv to try; may repeat")
        .value_name("SEGMENT.COLUMN=VALUE")
        .check(check_change, "change");
    add_plan_options(command, arguments->request, PlanOptionsFor::trial);
    command.option("--top", &arguments->top, "Rows of each list, 0 for all")
        .value_name("N")
        .count()
        .shows_default();
    add_out_option(command, arguments->out);
    command.footer(
        "Values are read and checked like those of overrides.csv, and stand before them; a\n"
        "number carries its unit. For SEGMENT may stand line:NAME, unit:NAME or all.\n"
        "What changes is shown beside the plant as it is: risk, ranks, work.\n\n"
        "  lagline what-if my-plant --set S-00012.coating_system=none\n"
        "  lagline what-if my-plant --set 'line:L-12.operating_temperature=95 degC'\n"
        "  lagline what-if my-plant --budget TA-2027=2000000");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
