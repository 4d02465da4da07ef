#include "ranking/explain.h"

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/explain_text.h"
#include "report/forecast_text.h"

namespace lagline::cli {
namespace {

struct ExplainArguments {
    PlantOptions plant;
    std::string segment;
    std::string format = "text";
    std::optional<std::string> out;
};

std::string as_text(const Opened& opened, const Explanation& told) {
    const TextStyle style = terminal_style();
    const Forecast& ahead = told.ahead.value();
    if (ahead.curves.empty()) return explain_text(told, style);
    return explain_text(told, style,
                        forecast_years(*opened.plant, ahead, ahead.curves.front(), style));
}

int run(const ExplainArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_with_outlook(*opened, arguments.plant, 1);
    const auto row = find_row(*opened->plant, ranking, arguments.segment);
    if (!row) return refuse_segment(*opened, ranking, arguments.segment);
    Explanation told = explain(*opened->plant, *opened->rules, ranking, *row);
    told.ahead = forecast_opened(*opened, arguments.plant, {&ranking.segment_rows[*row], 1},
                                 usual_horizon_years);
    return deliver(arguments.format == "json" ? explain_json(told) : as_text(*opened, told),
                   arguments.out);
}

}  // namespace

void add_explain(CLI::App& app, const Choose& choose) {
    auto* command = app.add_subcommand("explain", "Show why a segment stands where it does");
    auto arguments = std::make_shared<ExplainArguments>();
    add_plant_options(*command, arguments->plant);
    command->add_option("segment", arguments->segment, "Name of the segment")
        ->required()
        ->type_name("SEGMENT");
    add_format_option(*command, arguments->format, "text, or json for programs", {"text", "json"});
    add_out_option(*command, arguments->out);
    command->footer(
        "Every number is shown with its equation (docs/method.md), the cells it was made\n"
        "of (file, line, column) and the rule entries (file, line, source, basis). They\n"
        "are the numbers of `rank`, read from the same columns.\n\n"
        "  lagline explain my-plant S-0107\n"
        "  lagline explain my-plant S-0107 --format json --out S-0107.json");
    command->callback([choose, arguments] { choose([arguments] { return run(*arguments); }); });
}

}  // namespace lagline::cli
