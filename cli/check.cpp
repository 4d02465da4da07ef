#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "intake/gaps.h"
#include "ranking/engineer_list.h"
#include "report/engineer_text.h"
#include "report/gaps_text.h"

namespace lagline::cli {
namespace {

struct CheckArguments {
    PlantOptions plant;
    std::string format = "text";
};

std::string as_text(const Opened& opened) {
    const TextStyle style = terminal_style();
    std::string text;
    if (!opened.report.diagnostics().empty()) {
        text += to_text(opened.report, {.width = style.width, .colour = style.colour});
    }
    if (!opened.ok()) return text;
    if (!text.empty()) text += "\n";
    text += plant_summary(*opened.plant, style) + "\n";
    text += engineer_block(*opened.plant, *opened.rules,
                           engineer_list(*opened.plant, *opened.rules), style);
    text += gaps_text(find_gaps(*opened.plant, *opened.rules, fields_read(*opened.rules)),
                      opened.plant->segments.rows(), style);
    const std::string margins =
        margin_gaps_text(margin_gaps(*opened.plant, *opened.rules), *opened.rules, style);
    if (!margins.empty()) text += "\n" + margins;
    return text;
}

std::string as_json(const Opened& opened) {
    if (!opened.ok()) return check_json(opened.report, {}, 0);
    const auto needs = engineer_list(*opened.plant, *opened.rules);
    return check_json(opened.report,
                      find_gaps(*opened.plant, *opened.rules, fields_read(*opened.rules)),
                      opened.plant->segments.rows(), margin_gaps(*opened.plant, *opened.rules),
                      engineer_texts(*opened.plant, *opened.rules, needs));
}

int run(const CheckArguments& arguments) {
    const Opened opened = open_plant(arguments.plant);
    const int delivered = deliver(arguments.format == "json" ? as_json(opened) : as_text(opened));
    if (delivered != done) return delivered;
    return opened.ok() ? done : bad_input;
}

}  // namespace

void add_check(Command& program) {
    Command command =
        program.add_command("check", "Say all that is wrong with a plant, then its gaps");
    auto arguments = std::make_shared<CheckArguments>();
    add_plant_options(command, arguments->plant);
    add_format_option(command, arguments->format, "text, or json for programs", {"text", "json"});
    command.footer(
        "Every problem of every file is in the one report: file, line, column, what was\n"
        "found, what was expected, how to mend it. Without errors it goes on to the\n"
        "register of assumptions: which values are missing, in how many segments, and\n"
        "what is taken instead.\n\n"
        "  lagline check my-plant\n"
        "  lagline check my-plant --format json | jq '.report.diagnostics[].code'");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
