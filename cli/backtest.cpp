#include "learning/backtest.h"

#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/backtest_data.h"
#include "report/backtest_text.h"

namespace lagline::cli {
namespace {

constexpr int longest_window_years = 30;

struct BacktestArguments {
    PlantOptions plant;
    std::vector<std::string> at;
    int within_years = 5;
    std::string mechanism = "wall_loss";
    std::string format = "table";
    OutFile out;
};

std::string as_text(const BacktestArguments& arguments, const OpenedSources& opened,
                    const Backtest& test) {
    if (arguments.format == "csv") return backtest_csv(opened.plant, test);
    if (arguments.format == "json") return backtest_json(opened.plant, opened.rules, test);
    if (arguments.format == "svg") return backtest_svg(opened.plant, test);
    const TextStyle style = style_for(arguments.out, 100);
    return backtest_text(opened.plant, opened.rules, test, style);
}

int run(const BacktestArguments& arguments) {
    const auto opened = open_sources(arguments.plant);
    if (!opened) return bad_input;
    BacktestOptions options;
    options.cracking = arguments.mechanism != "wall_loss";
    for (const std::string& day : arguments.at) options.at.push_back(parse_date(day).value().date);
    options.within_years = arguments.within_years;
    options.plan = {arguments.plant.block_rows, arguments.plant.threads, nullptr};
    const Backtest test = backtest(opened->sources, opened->plant, opened->rules, options);
    if (test.dates.empty()) {
        std::cerr << "lagline: no past date has " << fewest_looked
                  << " segments that were looked at in the " << arguments.within_years
                  << " years after it; give one with --at, or a longer window with --within\n";
        return failed;
    }
    return deliver(as_text(arguments, *opened, test), arguments.out);
}

}  // namespace

void add_backtest(Command& program) {
    Command command = program.add_command("backtest", "Hold past rankings against later findings");
    auto arguments = std::make_shared<BacktestArguments>();
    add_plant_options(command, arguments->plant, RankedAt::today);
    command.option("--at", &arguments->at, "Past date to rank at, or several; else chosen")
        .value_name("DATE")
        .day();
    command.option("--within", &arguments->within_years, "Years after the date to look through")
        .value_name("YEARS")
        .whole_between(1, longest_window_years)
        .shows_default();
    command.option("--mechanism", &arguments->mechanism, "wall_loss or stress_cracking")
        .one_of({"wall_loss", "stress_cracking"})
        .shows_default();
    add_format_option(command, arguments->format, "table, csv, json or svg",
                      {"table", "csv", "json", "svg"});
    add_out_option(command, arguments->out);
    command.footer(
        "The plant is ranked as of past dates, each time only by what was known then,\n"
        "and the order is compared with what the first telling inspection of each\n"
        "segment found in the years after. The same is done for two naive orders: by\n"
        "age and by temperature band. The gain curve shows which share of the findings\n"
        "an order meets when so much of its list is opened; the area under it is 0.5 at\n"
        "random. The Brier score and the calibration table hold the chances that were\n"
        "stated against what came. Segments were chosen for inspection by people: an\n"
        "order is judged among those only.\n\n"
        "  lagline backtest my-plant\n"
        "  lagline backtest my-plant --at 2012-01-01 --at 2017-01-01 --within 4\n"
        "  lagline backtest my-plant --format svg --out backtest.svg");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
