#include "ranking/forecast.h"

#include <algorithm>
#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "report/forecast_svg.h"
#include "report/forecast_text.h"

namespace lagline::cli {
namespace {

struct ForecastArguments {
    PlantOptions plant;
    std::vector<std::string> segments;
    std::size_t top = 25;
    int years = usual_horizon_years;
    std::string format = "table";
    OutFile out;
};

// Rows of the segments named; nothing, and a message, when one is not there.
std::optional<std::vector<std::uint32_t>> rows_named(const Plant& plant,
                                                     const std::vector<std::string>& wanted) {
    const auto names = plant.segments.texts(SegmentField::segment);
    std::vector<std::uint32_t> rows;
    bool all_found = true;
    for (const std::string& name : wanted) {
        const auto at = std::ranges::find(names, name);
        if (at != names.end()) {
            rows.push_back(static_cast<std::uint32_t>(at - names.begin()));
            continue;
        }
        const std::string meant = did_you_mean(name, {names.data(), names.size()});
        std::cerr << "lagline: no segment '" << printable(name) << "' in segments.csv"
                  << (meant.empty() ? "" : "; " + meant) << "\n";
        all_found = false;
    }
    if (!all_found) return std::nullopt;
    std::ranges::sort(rows);
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    return rows;
}

std::vector<std::uint32_t> rows_ranked(const Opened& opened, const ForecastArguments& arguments) {
    const Ranking ranking = rank_opened(opened, arguments.plant);
    const std::size_t count =
        arguments.top == 0 ? ranking.order.size() : std::min(arguments.top, ranking.order.size());
    std::vector<std::uint32_t> rows;
    for (std::size_t rank = 0; rank < count; ++rank) {
        rows.push_back(ranking.segment_rows[ranking.order[rank]]);
    }
    return rows;
}

std::string as_text(const ForecastArguments& arguments, const Opened& opened,
                    const Forecast& ahead) {
    const Plant& plant = *opened.plant;
    if (arguments.format == "csv") return forecast_csv(plant, ahead);
    if (arguments.format == "json") return forecast_json(plant, *opened.rules, ahead);
    if (arguments.format == "svg") return forecast_svg(plant, *opened.rules, ahead);
    const TextStyle style = style_for(arguments.out, 120);
    std::string text = forecast_table(plant, ahead, style);
    if (ahead.curves.size() == 1) {
        text += "\n" + forecast_years(plant, ahead, ahead.curves.front(), style);
    }
    return text;
}

int run(const ForecastArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    auto rows = arguments.segments.empty() ? rows_ranked(*opened, arguments)
                                           : rows_named(*opened->plant, arguments.segments);
    if (!rows) return wrong_use;
    const Forecast ahead = forecast_opened(*opened, arguments.plant, *rows, arguments.years);
    if (ahead.curves.size() < rows->size()) {
        std::cerr << "lagline: " << rows->size() - ahead.curves.size()
                  << " of the segments asked for are not ranked; `lagline explain` says why\n";
    }
    return deliver(as_text(arguments, *opened, ahead), arguments.out);
}

}  // namespace

void add_forecast(Command& program) {
    Command command =
        program.add_command("forecast", "Show the years ahead, and when segments are due");
    auto arguments = std::make_shared<ForecastArguments>();
    add_plant_options(command, arguments->plant);
    command
        .option("segments", &arguments->segments,
                "Segments to look at; else the first of the ranking")
        .value_name("SEGMENT");
    command.option("--top", &arguments->top, "Ranks to look at without SEGMENT, 0 for all")
        .value_name("N")
        .count()
        .shows_default();
    constexpr int most_years = 100;
    command.option("--years", &arguments->years, "Years to look ahead from today")
        .value_name("N")
        .whole_between(1, most_years)
        .shows_default();
    add_format_option(command, arguments->format, "table, csv, json or svg (a picture)",
                      {"table", "csv", "json", "svg"});
    add_out_option(command, arguments->out);
    command.footer(
        "The state of each segment today and on the same day of each year after it, if\n"
        "nothing is done: damage factor, probability of a leak, risk, expected wall,\n"
        "chance that it is below the minimum. Between two of these days the curves run\n"
        "straight; a segment is due on the first day on which one reaches a criterion of\n"
        "plant.yaml (criteria: wall, probability, risk).\n\n"
        "  lagline forecast my-plant\n"
        "  lagline forecast my-plant S-0107 --years 30\n"
        "  lagline forecast my-plant S-0107 S-0108 --format svg --out curves.svg\n"
        "  lagline forecast my-plant --top 0 --format csv --out curves.csv");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
