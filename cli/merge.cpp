#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/merge/ranking_merge.h"

namespace lagline::cli {
namespace {

struct MergeArguments {
    std::vector<std::string> parts;
    std::optional<std::size_t> asked_top;
    OutFile out;
};

int run(const MergeArguments& arguments) {
    Report report;
    const RankingMerge merge{arguments.parts, report};
    if (!report.ok()) {
        print_report(report);
        return bad_input;
    }
    const std::size_t top = arguments.asked_top.value_or(0);
    return deliver([&](const TakeText& take) { return merge.write(top, take); }, arguments.out);
}

}  // namespace

void add_merge(Command& program) {
    Command command =
        program.add_command("merge", "Make the rankings of parts into that of the whole");
    auto arguments = std::make_shared<MergeArguments>();
    command.files().reads_files(arguments->parts);
    command.option("parts", &arguments->parts, "Rankings as CSV, any order; - for standard input")
        .required()
        .value_name("FILE");
    command.option("--top", &arguments->asked_top, "Rows to give, 0 for all (all)")
        .value_name("N")
        .count();
    add_out_option(command, arguments->out);
    command.footer(
        "A segment's row in a ranking depends on no other segment, but for its rank and\n"
        "its rank of today. So a plant too large for one process, or one machine, is cut\n"
        "into parts; each is ranked by `lagline rank PLANT --stdin --format csv`, and the\n"
        "rankings are put together here: the bytes that one process would have given.\n\n"
        "All parts are to be ranked with the same --rules, --at and --today, and whole:\n"
        "without --top. A file may hold several rankings, each behind its heading. Parts\n"
        "that do not go together, a segment that stands twice, rows out of order or cut\n"
        "off are told with their places, and nothing is written. The rows are not kept\n"
        "in memory. How to cut a plant and run the parts: docs/portfolio.md.\n\n"
        "  lagline merge part-1.csv part-2.csv --out ranking.csv\n"
        "  cat part-*.csv | lagline merge - --top 50");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
