#include "ranking/uncertainty.h"

#include "cli/app.h"
#include "cli/output.h"
#include "cli/progress.h"
#include "cli/session.h"
#include "report/uncertainty_csv.h"
#include "report/uncertainty_json.h"
#include "report/uncertainty_text.h"

namespace lagline::cli {
namespace {

// A screen of rows; CSV and JSON give all unless told otherwise.
constexpr std::size_t rows_on_screen = 20;
constexpr std::size_t least_samples = 16;
constexpr std::size_t most_samples = 65536;

struct UncertaintyArguments {
    PlantOptions plant;
    UncertaintyOptions options;
    std::optional<std::size_t> rows;
    std::string format = "table";
    OutFile out;
};

std::string as_text(const UncertaintyArguments& arguments, const Opened& opened,
                    const Uncertainty& sure) {
    const Plant& plant = *opened.plant;
    if (arguments.format == "csv") {
        return uncertainty_csv(plant, sure, arguments.rows.value_or(0));
    }
    if (arguments.format == "json") {
        return uncertainty_json(plant, *opened.rules, sure, arguments.rows.value_or(0));
    }
    const TextStyle style = style_for(arguments.out, 120);
    return uncertainty_text(plant, *opened.rules, sure, arguments.rows.value_or(rows_on_screen),
                            style);
}

Uncertainty work_out(const UncertaintyArguments& arguments, const Opened& opened) {
    Progress progress{"sampling"};
    return rank_uncertainty(
        *opened.plant, *opened.rules, arguments.options,
        {arguments.plant.block_rows, arguments.plant.threads, progress.counter()});
}

int run(const UncertaintyArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    return deliver(as_text(arguments, *opened, work_out(arguments, *opened)), arguments.out);
}

}  // namespace

void add_uncertainty(Command& program) {
    Command command =
        program.add_command("uncertainty", "How sure the ranking is, which gap to fill first");
    auto arguments = std::make_shared<UncertaintyArguments>();
    add_plant_options(command, arguments->plant);
    command.option("--samples", &arguments->options.samples, "Draws; a power of two is best")
        .value_name("N")
        .count()
        .whole_between(least_samples, most_samples)
        .shows_default();
    command.option("--top", &arguments->options.top, "Size of the top group")
        .value_name("N")
        .count()
        .whole_between(1, 1'000'000'000)
        .shows_default();
    command.option("--rows", &arguments->rows, "Rows to print, 0 for all (table: 20, else all)")
        .value_name("N")
        .count();
    add_format_option(command, arguments->format, "table, csv or json", {"table", "csv", "json"});
    add_out_option(command, arguments->out);
    command.footer(
        "The ranking takes one value for each thing that is not known. This command draws\n"
        "such values instead, from what the rules say may stand there (`lagline rules\n"
        "list`), ranks the plant each time, and shows for each segment the chance of\n"
        "belonging to the top group and the range of its rank. The list \"find this record\n"
        "first\" names the missing records that would settle most.\n\n"
        "  lagline uncertainty my-plant --top 50\n"
        "  lagline uncertainty my-plant --samples 1024 --format csv --out sure.csv\n"
        "  lagline uncertainty my-plant --format json | jq '.find_first[0]'");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
