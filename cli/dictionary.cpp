#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "report/data_dictionary.h"

namespace lagline::cli {
namespace {

struct DictionaryArguments {
    std::string rules = "extended";
    bool commands = false;
};

int run(const DictionaryArguments& arguments) {
    if (arguments.commands) return deliver(App{}.manual(), std::nullopt);
    const auto rules = open_rules(arguments.rules, "");
    if (!rules) return bad_input;
    return deliver(data_dictionary(*rules), std::nullopt);
}

}  // namespace

void add_dictionary(Command& program) {
    Command command =
        program.add_command("dictionary", "Print every column that goes in or comes out");
    auto arguments = std::make_shared<DictionaryArguments>();
    command.option("--rules", &arguments->rules, "Rule set whose words are listed")
        .value_name("NAME|DIR")
        .shows_default();
    command.flag("--commands", arguments->commands, "Print the manual of all commands instead");
    command.footer(
        "  lagline dictionary > docs/data-dictionary.md\n"
        "  lagline dictionary --commands > docs/commands.md");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
