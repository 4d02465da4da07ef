#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "cli/stored_runs.h"
#include "report/ranking_csv.h"
#include "report/ranking_json.h"
#include "report/ranking_table.h"
#include "report/xlsx/result_workbook.h"

namespace lagline::cli {
namespace {

// A screen of rows; CSV and JSON give all unless told otherwise.
constexpr std::size_t rows_on_screen = 25;

struct RankArguments {
    PlantOptions plant;
    std::optional<std::size_t> top;
    std::string format = "table";
    OutFile out;
    StoreOptions store;
};

std::size_t rows_wanted(const RankArguments& arguments) {
    return arguments.top.value_or(arguments.format == "table" ? rows_on_screen : 0);
}

std::string as_text(const RankArguments& arguments, const Opened& opened, const Ranking& ranking) {
    const Plant& plant = *opened.plant;
    const RuleSet& rules = *opened.rules;
    if (arguments.format == "csv") {
        return ranking_csv(plant, rules, ranking, rows_wanted(arguments),
                           work_plan(arguments.plant));
    }
    if (arguments.format == "json") {
        return ranking_json(plant, rules, ranking, rows_wanted(arguments));
    }
    const TextStyle style = style_for(arguments.out, 120);
    return ranking_table(plant, rules, ranking, rows_wanted(arguments), style);
}

int deliver_ranking(const RankArguments& arguments, const Opened& opened, const Ranking& ranking) {
    if (arguments.format != workbook_format) {
        return deliver(as_text(arguments, opened, ranking), arguments.out);
    }
    return deliver(ranking_xlsx(*opened.plant, *opened.rules, ranking, rows_wanted(arguments)),
                   arguments.out);
}

// A run of the ledger is made again from the files of a folder, which a part is not.
int refuse_stored_part(const RankArguments& arguments) {
    if (!arguments.plant.piped || !arguments.store.stores()) return done;
    std::cerr << "lagline: a ranking of --stdin cannot be stored: a run keeps the files of its "
                 "folder, to be made again from them; put the segments into segments.csv of a "
                 "folder and leave --stdin out\nRun with --help for more information.\n";
    return wrong_use;
}

int run(const RankArguments& arguments) {
    if (const int refused = refuse_stored_part(arguments); refused != done) return refused;
    if (const int refused = refuse_without_out(arguments.format, arguments.out); refused != done) {
        return refused;
    }
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    // What is stored has the due dates of every segment.
    const std::size_t looked_at = arguments.store.stores() ? 0 : rows_wanted(arguments);
    const Ranking ranking = rank_first(*opened, arguments.plant, looked_at);
    if (arguments.store.stores()) {
        const int stored = store(rank_as_run(*opened, arguments.plant, ranking),
                                 arguments.store.file(arguments.plant.folder));
        if (stored != done) return stored;
    }
    return deliver_ranking(arguments, *opened, ranking);
}

}  // namespace

void add_rank(Command& program) {
    Command command = program.add_command("rank", "Rank the segments of a plant by risk");
    auto arguments = std::make_shared<RankArguments>();
    add_plant_options(command, arguments->plant);
    command.flag("--stdin", arguments->plant.piped, "Read the segments from standard input");
    command.option("--top", &arguments->top, "Rows to print, 0 for all (table: 25, else all)")
        .value_name("N")
        .count();
    add_format_option(command, arguments->format, "table, csv, json, or xlsx with --out",
                      {"table", "csv", "json", "xlsx"});
    add_out_option(command, arguments->out);
    add_store_options(command, arguments->store);
    command.footer(
        "Each segment is ranked by the expected loss a year at the date shown in the\n"
        "first line: the start of the window after the next one of turnarounds.csv, since\n"
        "what is left alone in the next window must last until the one after. --at gives\n"
        "another. Beside it stand the rank of today and the day the segment is due, that\n"
        "is reaches a criterion of plant.yaml, within 20 years if nothing is done.\n\n"
        "--store keeps the run whole: inputs, rules, options, results, under a digest.\n"
        "`lagline verify` makes it again and compares (docs/ledger.md).\n\n"
        "  lagline rank my-plant --top 50\n"
        "  lagline rank my-plant --format csv --out ranking.csv\n"
        "  lagline rank my-plant --format xlsx --out ranking.xlsx\n"
        "  lagline rank my-plant --at 2030-01-01 --format json | jq '.rows[0]'\n"
        "--stdin takes heading and rows of segments.csv from a pipe, all else from the\n"
        "folder. They may be a part of the segments: inspections and overrides of others\n"
        "are passed over and counted. `lagline merge` makes the rankings of parts into\n"
        "the one of the whole, byte for byte (docs/portfolio.md). Parts are to be ranked\n"
        "with the same --rules, --at and --today.\n\n"
        "  lagline rank my-plant --store\n"
        "  lagline rank my-plant --stdin --today 2026-11-25 --format csv < part.csv");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
