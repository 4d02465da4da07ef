#include "ranking/explain.h"

#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "diagnostics/text.h"
#include "report/action_text.h"
#include "report/explain_text.h"
#include "report/forecast_text.h"

namespace lagline::cli {
namespace {

constexpr std::string_view best_action = "best";

struct ExplainArguments {
    PlantOptions plant;
    std::string segment;
    std::optional<std::string> action;  ///< a word of `work_action`, or best
    std::string format = "text";
    OutFile out;
};

std::string as_text(const Opened& opened, const Explanation& told, const OutFile& out) {
    const TextStyle style = style_for(out, 100);
    const Forecast& ahead = told.ahead.value();
    if (ahead.curves.empty()) return explain_text(told, style);
    return explain_text(told, style,
                        forecast_years(*opened.plant, ahead, ahead.curves.front(), style));
}

// What can be done with the segment, and one action in full.
int explain_action(const Opened& opened, const Ranking& ranking, std::uint32_t segment,
                   const ExplainArguments& arguments) {
    std::optional<WorkAction> shown;
    if (*arguments.action != best_action) {
        const Vocabulary& actions = opened.rules->vocabulary("work_action");
        const auto code = actions.code(*arguments.action);
        if (!code) {
            std::cerr << "lagline: --action: no action '" << printable(*arguments.action)
                      << "'; there is " << best_action;
            for (const std::string_view key : actions.keys()) std::cerr << " " << key;
            std::cerr << "\n";
            return wrong_use;
        }
        shown = static_cast<WorkAction>(*code);
    }
    const auto text = actions_text(*opened.plant, *opened.rules, ranking, segment, shown,
                                   style_for(arguments.out, 100));
    return deliver(text.value(), arguments.out);
}

int run(const ExplainArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_with_outlook(*opened, arguments.plant, 1);
    const auto row = find_row(*opened->plant, ranking, arguments.segment);
    if (!row) return refuse_segment(*opened, ranking, arguments.segment);
    if (arguments.action) {
        return explain_action(*opened, ranking, ranking.segment_rows[*row], arguments);
    }
    Explanation told = explain(*opened->plant, *opened->rules, ranking, *row);
    told.ahead = forecast_opened(*opened, arguments.plant, {&ranking.segment_rows[*row], 1},
                                 usual_horizon_years);
    return deliver(
        arguments.format == "json" ? explain_json(told) : as_text(*opened, told, arguments.out),
        arguments.out);
}

}  // namespace

void add_explain(Command& program) {
    Command command = program.add_command("explain", "Show why a segment stands where it does");
    auto arguments = std::make_shared<ExplainArguments>();
    add_plant_options(command, arguments->plant);
    command.option("segment", &arguments->segment, "Name of the segment")
        .required()
        .value_name("SEGMENT");
    command
        .option("--action", &arguments->action, "What can be done; in full: best, open_part, ...")
        .value_name("ACTION");
    add_format_option(command, arguments->format, "text, or json for programs", {"text", "json"});
    add_out_option(command, arguments->out);
    command.footer(
        "Every number is shown with its equation (docs/method.md), the cells it was made\n"
        "of (file, line, column) and the rule entries (file, line, source, basis). They\n"
        "are the numbers of `rank`, read from the same columns.\n\n"
        "  lagline explain my-plant S-0107\n"
        "  lagline explain my-plant S-0107 --action open_part\n"
        "  lagline explain my-plant S-0107 --format json --out S-0107.json");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
