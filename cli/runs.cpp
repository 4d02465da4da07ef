#include "cli/app.h"
#include "cli/ledger_text.h"
#include "cli/output.h"
#include "cli/stored_runs.h"

namespace lagline::cli {
namespace {

struct RunsArguments {
    LedgerOptions ledger;
    std::string format = "table";
};

int run(const RunsArguments& arguments) {
    try {
        const Ledger ledger = Ledger::to_read(arguments.ledger.file());
        const auto runs = ledger.runs();
        const auto signatures = ledger.signatures();
        return deliver(arguments.format == "json"
                           ? runs_json(runs, signatures)
                           : runs_text(runs, signatures, ledger.content_size(), terminal_style()));
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace

void add_runs(Command& program) {
    Command command = program.add_command("runs", "List the stored runs of a plant");
    auto arguments = std::make_shared<RunsArguments>();
    add_ledger_option(command, arguments->ledger);
    add_format_option(command, arguments->format, "table, or json for programs", {"table", "json"});
    command.footer(
        "Runs are stored by `rank --store` and `plan --store`, whole or not at all, and\n"
        "never changed afterwards.\n\n"
        "  lagline runs my-plant\n"
        "  lagline runs copies/lagline.db --format json | jq '.runs[-1].digest'");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
