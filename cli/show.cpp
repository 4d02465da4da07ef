#include <algorithm>
#include <filesystem>
#include <iostream>

#include "cli/app.h"
#include "cli/ledger_text.h"
#include "cli/output.h"
#include "cli/stored_runs.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

struct ShowArguments {
    LedgerOptions ledger;
    std::string format = "text";
    std::optional<std::string> extract;
};

int extract(const Ledger& ledger, const RunEntry& run, const fs::path& folder) {
    std::error_code none;
    if (fs::exists(folder, none) && !fs::is_empty(folder, none)) {
        std::cerr << "lagline: " << folder.string() << " is there and not empty; give a new one\n";
        return wrong_use;
    }
    std::vector<StoredFile> files = ledger.files(run);
    files.push_back({"manifest.txt", manifest_of(run)});
    write_files(files, folder);
    return done;
}

int run(const ShowArguments& arguments) {
    try {
        const Ledger ledger = Ledger::to_read(arguments.ledger.file());
        ShownRun shown{ledger.run(arguments.ledger.run), {}, ledger.signatures()};
        if (arguments.extract) return extract(ledger, shown.run, *arguments.extract);
        std::erase_if(shown.signatures,
                      [&](const SignatureEntry& each) { return each.run != shown.run.number; });
        shown.options = read_options(ledger.file(shown.run, options_path)).value_or(RunOptions{});
        return deliver(arguments.format == "json" ? run_json(shown)
                                                  : run_text(shown, terminal_style()));
    } catch (const LedgerFault& fault) {
        return tell(fault);
    }
}

}  // namespace

void add_show(Command& program) {
    Command command = program.add_command("show", "Show a stored run, or get its files out");
    auto arguments = std::make_shared<ShowArguments>();
    add_ledger_option(command, arguments->ledger);
    add_run_argument(command, "run", arguments->ledger.run, "Number of the run").required();
    add_format_option(command, arguments->format, "text, or json for programs", {"text", "json"});
    command.files().makes_folder([arguments] { return arguments->extract; });
    command.option("--extract", &arguments->extract, "Folder to write its files into")
        .value_name("DIR");
    command.footer(
        "--extract writes every file of the run, byte for byte, and manifest.txt, whose\n"
        "SHA-256 is the digest of the run. From its 8th line on it is a list for\n"
        "`sha256sum --check`: the run can be checked without Lagline.\n\n"
        "  lagline show my-plant 3\n"
        "  lagline show my-plant 3 --extract run-3\n"
        "  cd run-3 && sha256sum manifest.txt && tail -n +8 manifest.txt | sha256sum -c");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
