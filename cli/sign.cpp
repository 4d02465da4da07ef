#include <iostream>

#include "cli/app.h"
#include "cli/stored_runs.h"
#include "diagnostics/text.h"

namespace lagline::cli {
namespace {

struct SignArguments {
    LedgerOptions ledger;
    NewSignature said;
};

int run(const SignArguments& arguments) {
    try {
        // Asked for first, so that signing never starts a ledger.
        static_cast<void>(Ledger::to_read(arguments.ledger.file()).run(arguments.ledger.run));
        NewSignature said = arguments.said;
        said.run = arguments.ledger.run;
        const SignatureEntry made = Ledger::to_write(arguments.ledger.file()).sign(said, now_utc());
        std::cerr << "lagline: run " << made.run << " signed as " << printable(made.name)
                  << ", entry " << made.chain.entry << "\nlagline: digest " << made.chain.digest
                  << "\n";
        return done;
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace

void add_sign(Command& program) {
    Command command = program.add_command("sign", "Put a name and a note to a stored run");
    auto arguments = std::make_shared<SignArguments>();
    add_ledger_option(command, arguments->ledger);
    add_run_argument(command, "run", arguments->ledger.run, "Number of the run").required();
    command.option("--as", &arguments->said.name, "Name of who signs")
        .required()
        .value_name("NAME");
    command.option("--role", &arguments->said.role, "In which role").required().value_name("ROLE");
    command.option("--note", &arguments->said.note, "What is said about the run, one line")
        .required()
        .value_name("TEXT");
    command.footer(
        "The signature is appended and chained like a run; it cannot be taken back, only\n"
        "followed by another. It is a record, not proof of identity: anybody who may\n"
        "write the ledger can type any name.\n\n"
        "  lagline sign my-plant 3 --as \"A. Engineer\" --role \"integrity engineer\" \\\n"
        "      --note \"basis of the scope of TA-2027\"");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
