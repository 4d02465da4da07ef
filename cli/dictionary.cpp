#include <filesystem>
#include <iostream>

#include "cli/app.h"
#include "cli/completion.h"
#include "cli/man_page.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/data_dictionary.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr Edition edition{LAGLINE_VERSION, LAGLINE_RELEASE_DATE, LAGLINE_SUMMARY};

struct DictionaryArguments {
    std::string rules = "extended";
    bool commands = false;
    std::string man;
    std::string completion;
    OutFile out;
    /// What is asked for in place of the dictionary.
    [[nodiscard]] int others() const {
        return (commands ? 1 : 0) + (man.empty() ? 0 : 1) + (completion.empty() ? 0 : 1);
    }
};

int write_man_pages(const fs::path& folder, const OutFile& like) {
    const auto pages = man_pages(App{}.description({}), edition);
    const auto place = [&](const ManPage& page) {
        OutFile out = like;
        out.file = (folder / page.file).string();
        return out;
    };
    for (const ManPage& page : pages) {
        if (const int refused = refuse_target(place(page)); refused != done) return refused;
    }
    std::error_code problem;
    fs::create_directories(folder, problem);
    if (problem) {
        std::cerr << "lagline: cannot make the folder " << folder.string() << ": "
                  << problem.message() << "\n";
        return failed;
    }
    for (const ManPage& page : pages) {
        const int written = deliver(page.text, place(page));
        if (written != done) return written;
    }
    return done;
}

int write_completion(const DictionaryArguments& arguments) {
    const ProgramDescription program = App{}.description(shipped_rule_sets());
    return deliver(
        arguments.completion == "zsh" ? zsh_completion(program) : bash_completion(program),
        arguments.out);
}

int run(const DictionaryArguments& arguments) {
    if (arguments.others() > 1 || (!arguments.man.empty() && arguments.out)) {
        std::cerr << "lagline: --commands, --man and --completion are each asked for alone; --man "
                     "takes no --out\n";
        return wrong_use;
    }
    if (!arguments.man.empty()) return write_man_pages(arguments.man, arguments.out);
    if (!arguments.completion.empty()) return write_completion(arguments);
    if (arguments.commands) return deliver(App{}.manual(), arguments.out);
    const auto rules = open_rules(arguments.rules, "");
    if (!rules) return bad_input;
    return deliver(data_dictionary(*rules), arguments.out);
}

}  // namespace

void add_dictionary(Command& program) {
    Command command =
        program.add_command("dictionary", "Print every column that goes in or comes out");
    auto arguments = std::make_shared<DictionaryArguments>();
    command.files().reads_rules(arguments->rules);
    command.option("--rules", &arguments->rules, "Rule set whose words are listed")
        .value_name("NAME|DIR")
        .shows_default();
    command.flag("--commands", arguments->commands, "Print the manual of all commands instead");
    command.option("--man", &arguments->man, "Write manual pages into this folder instead")
        .value_name("DIR");
    command.option("--completion", &arguments->completion, "Print completions for a shell instead")
        .one_of({"bash", "zsh"});
    command.files().makes_folder([arguments]() -> std::optional<std::string> {
        return arguments->man.empty() ? std::nullopt : std::optional{arguments->man};
    });
    add_out_option(command, arguments->out);
    command.footer(
        "  lagline dictionary > docs/data-dictionary.md\n"
        "  lagline dictionary --commands > docs/commands.md\n"
        "  lagline dictionary --man man1           lagline.1, lagline-rank.1, ...\n"
        "  lagline dictionary --completion zsh --out _lagline");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
