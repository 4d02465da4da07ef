#include <algorithm>

#include "cli/app.h"
#include "cli/ledger_text.h"
#include "cli/output.h"
#include "cli/stored_runs.h"

namespace lagline::cli {
namespace {

struct VerifyArguments {
    LedgerOptions ledger;
    std::string format = "text";
    bool digests_only = false;
};

// A ledger that could not be looked at is not one that is damaged.
int exit_code(const Verification& verification) {
    if (verification.ok()) return done;
    const auto& found = verification.content.report.diagnostics();
    const auto is = [&](Problem problem) {
        return std::ranges::find(found, problem, &Diagnostic::problem) != found.end();
    };
    if (is(Problem::missing_file) || is(Problem::newer_format)) return bad_input;
    if (is(Problem::ledger_busy) || is(Problem::unreadable_file)) return failed;
    return checks_failed;
}

int run(const VerifyArguments& arguments) {
    try {
        const std::filesystem::path file = arguments.ledger.file();
        Verification verification{check_content(file), {}, false};
        if (verification.content.report.ok()) {
            const Ledger ledger = Ledger::to_read(file);
            const std::int64_t wanted = arguments.ledger.run;
            const std::vector<RunEntry> runs =
                wanted == 0 ? ledger.runs() : std::vector<RunEntry>{ledger.run(wanted)};
            verification.made_again = !arguments.digests_only;
            for (const RunEntry& each : runs) {
                if (arguments.digests_only) break;
                verification.runs.push_back(reproduce(ledger, each, run_stored));
            }
        }
        const int delivered =
            deliver(arguments.format == "json" ? verification_json(verification)
                                               : verification_text(verification, terminal_style()));
        return delivered == done ? exit_code(verification) : delivered;
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace

void add_verify(Command& program) {
    Command command = program.add_command("verify", "Check a ledger and make its runs again");
    auto arguments = std::make_shared<VerifyArguments>();
    add_ledger_option(command, arguments->ledger);
    add_run_argument(command, "run", arguments->ledger.run, "Run to make again; else every one");
    command.flag("--digests-only", arguments->digests_only, "Make no run again");
    add_format_option(command, arguments->format, "text, or json for programs", {"text", "json"});
    command.footer(
        "Checks the pages of the ledger, the digest of every stored file, run and\n"
        "signature, and the chain. Then each run is made again in a temporary folder from\n"
        "what the ledger holds, rules too, and its results are compared byte for byte.\n"
        "Where a plan's search ran out of time, the choice it found is taken as it is.\n"
        "The plant's files are not looked at. Exit code 4 when anything is not as stored.\n\n"
        "  lagline verify my-plant\n"
        "  lagline verify copies/lagline.db 3");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
