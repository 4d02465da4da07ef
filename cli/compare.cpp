#include "ledger/compare.h"

#include "cli/app.h"
#include "cli/ledger_text.h"
#include "cli/output.h"
#include "cli/stored_runs.h"

namespace lagline::cli {
namespace {

// A screen of rows; JSON gives all.
constexpr std::size_t rows_on_screen = 25;

struct CompareArguments {
    LedgerOptions ledger;  ///< with run A
    std::int64_t b = 0;
    std::size_t top = rows_on_screen;
    std::string format = "table";
    OutFile out;
};

int run(const CompareArguments& arguments) {
    try {
        const Ledger ledger = Ledger::to_read(arguments.ledger.file());
        const Comparison comparison =
            compare_runs(ledger, arguments.ledger.run, arguments.b, LAGLINE_VERSION, order_stored);
        return deliver(arguments.format == "json" ? comparison_json(comparison)
                                                  : comparison_text(comparison, arguments.top,
                                                                    style_for(arguments.out, 120)),
                       arguments.out);
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace

void add_compare(Command& program) {
    Command command =
        program.add_command("compare", "Say why ranks differ between two stored runs");
    auto arguments = std::make_shared<CompareArguments>();
    add_ledger_option(command, arguments->ledger);
    add_run_argument(command, "a", arguments->ledger.run, "The run before").required();
    add_run_argument(command, "b", arguments->b, "The run after").required();
    command.option("--top", &arguments->top, "Changed segments to list, 0 for all")
        .value_name("N")
        .count()
        .shows_default();
    add_format_option(command, arguments->format, "table, or json for programs", {"table", "json"});
    add_out_option(command, arguments->out);
    command.footer(
        "Run A is made again with one change of B at a time: the plant's data, the rules,\n"
        "the overrides, the dates. What moves a segment by itself is its cause; what the\n"
        "changes do only together is listed as interaction. A change by another version\n"
        "of Lagline shows where a run made again is not what was stored. Of a stored plan\n"
        "the ranking it rests on is compared, not the work.\n\n"
        "  lagline compare my-plant 3 4\n"
        "  lagline compare my-plant 3 4 --format json | jq '.changes[0]'");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
