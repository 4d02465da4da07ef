#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "ranking/explain.h"
#include "report/recoat_text.h"

namespace lagline::cli {
namespace {

struct RecoatArguments {
    PlantOptions plant;
    std::string segment;
    std::string format = "table";
    OutFile out;
};

int run(const RecoatArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_opened(*opened, arguments.plant);
    const auto row = find_row(*opened->plant, ranking, arguments.segment);
    if (!row) return refuse_segment(*opened, ranking, arguments.segment);
    const RecoatSheet sheet = recoat_sheet(*opened->plant, *opened->rules, ranking, *row);
    const std::string text =
        arguments.format == "json"
            ? recoat_json(*opened->plant, *opened->rules, sheet)
            : recoat_text(*opened->plant, *opened->rules, sheet, style_for(arguments.out, 80));
    return deliver(text, arguments.out);
}

}  // namespace

void add_recoat(Command& program) {
    Command command = program.add_command("recoat", "Specify a new coating for a segment");
    auto arguments = std::make_shared<RecoatArguments>();
    add_plant_options(command, arguments->plant);
    command.option("segment", &arguments->segment, "Name of the segment")
        .required()
        .value_name("SEGMENT");
    add_format_option(command, arguments->format, "table, or json for programs", {"table", "json"});
    add_out_option(command, arguments->out);
    command.footer(
        "Coating systems that suit steel, service, weather and the preparation that can\n"
        "be had, by life-cycle cost, in a shutdown and on stream; those refused with the\n"
        "reason; quantities, hours and cautions. Method: docs/recoat.md.\n\n"
        "  lagline recoat my-plant S-0107\n"
        "  lagline recoat my-plant S-0107 --format json --out S-0107.json");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
