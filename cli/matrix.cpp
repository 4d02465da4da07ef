#include "ranking/matrix.h"
#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/matrix_svg.h"
#include "report/matrix_text.h"

namespace lagline::cli {
namespace {

struct MatrixArguments {
    PlantOptions plant;
    std::string format = "table";
    std::size_t worst = 3;
    OutFile out;
};

std::string as_text(const MatrixArguments& arguments, const Opened& opened,
                    const Ranking& ranking) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    const RiskMatrix matrix = risk_matrix(plant, rules, ranking);
    if (arguments.format == "csv") return matrix_csv(plant, rules, ranking, matrix);
    if (arguments.format == "json") {
        return matrix_json(plant, rules, ranking, matrix, arguments.worst);
    }
    if (arguments.format == "svg") return matrix_svg(plant, rules, ranking, matrix);
    const TextStyle style = style_for(arguments.out, 80);
    return matrix_table(plant, rules, ranking, matrix, arguments.worst, style);
}

int run(const MatrixArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_opened(*opened, arguments.plant);
    return deliver(as_text(arguments, *opened, ranking), arguments.out);
}

}  // namespace

void add_matrix(Command& program) {
    Command command =
        program.add_command("matrix", "Count the segments in each cell of the risk matrix");
    auto arguments = std::make_shared<MatrixArguments>();
    add_plant_options(command, arguments->plant);
    add_format_option(command, arguments->format, "table, csv, json or svg",
                      {"table", "csv", "json", "svg"});
    command.option("--worst", &arguments->worst, "Segments to name, by cell")
        .value_name("N")
        .count()
        .shows_default();
    add_out_option(command, arguments->out);
    command.footer(
        "The limits of the categories and the bands of the cells come from the rules; a\n"
        "site sets its own in an overlay. svg draws probability against cost of a leak\n"
        "with lines of equal risk and the criteria of plant.yaml.\n\n"
        "  lagline matrix my-plant\n"
        "  lagline matrix my-plant --format svg --out matrix.svg");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
