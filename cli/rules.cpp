#include <iostream>
#include <iterator>
#include <list>
#include <span>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/session.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "ranking/rule_checks.h"
#include "report/empty_columns_text.h"
#include "report/rules_text.h"

namespace lagline::cli {
namespace {

struct RulesArguments {
    std::string rules = "extended";
    std::string plant;
    std::string table;
    std::string format = "table";
};

using Shared = std::shared_ptr<RulesArguments>;

int show(const RulesArguments& arguments, std::string (*text)(const RuleSet&, const TextStyle&)) {
    const auto rules = open_rules(arguments.rules, arguments.plant);
    if (!rules) return bad_input;
    return deliver(text(*rules, terminal_style()));
}

int show_table(const RulesArguments& arguments) {
    const auto rules = open_rules(arguments.rules, arguments.plant);
    if (!rules) return bad_input;
    const std::string text = rules_table(*rules, arguments.table, terminal_style());
    if (!text.empty()) return deliver(text);
    std::vector<std::string_view> names;
    for (const RuleLine& line : all_entries(*rules)) names.push_back(line.table->name);
    const std::string meant = did_you_mean(arguments.table, names);
    std::cerr << "lagline: no table '" << printable(arguments.table) << "'; "
              << (meant.empty() ? "`lagline rules list` shows all" : meant) << "\n";
    return wrong_use;
}

int show_defaults(const RulesArguments& arguments) {
    const auto rules = open_rules(arguments.rules, arguments.plant);
    if (!rules) return bad_input;
    const auto columns = empty_columns(*rules);
    return deliver(arguments.format == "json"
                       ? empty_columns_json(*rules, columns)
                       : empty_columns_text(*rules, columns, terminal_style()));
}

// A check pins a number down.  One that an overlay means to change fails, as it should; whoever
// reads that needs to know where to look.
std::string because_of_overlay(const RuleSet& rules) {
    if (rules.changes.empty() && rules.site_factors.empty()) return "";
    std::string text =
        "\nThe rule set is not as shipped. A check that was written for the set below can fail\n"
        "because of what the overlay changes; without the overlay: lagline rules check.\n";
    for (const RuleChange& change : rules.changes) {
        text += "  " + change.what + " from " + change.from + " to " + change.to + " (" +
                change.reason + ")\n    " + to_string(change.place) + "\n";
    }
    return text;
}

// The checks of each shipped set are run on that set alone; those of the chosen one with the
// overlay of the plant on it, which they then pin down too.
int check(const RulesArguments& arguments) {
    const auto chosen = open_rules(arguments.rules, arguments.plant);
    if (!chosen) return bad_input;
    const auto shipped = open_rules(arguments.rules, "");
    if (!shipped) return bad_input;
    std::list<RuleSet> below;  // outcomes point into them
    std::vector<CheckOutcome> outcomes;
    const std::size_t top = shipped->layers.size() - 1;
    for (const std::string& layer : std::span{shipped->layers}.first(top)) {
        auto rules = open_rules(layer, "");
        if (!rules) return bad_input;
        below.push_back(std::move(*rules));
        std::ranges::move(run_rule_checks(below.back()), std::back_inserter(outcomes));
    }
    std::ranges::move(run_rule_checks(*chosen, std::span{chosen->layers}.subspan(top)),
                      std::back_inserter(outcomes));
    const bool all_ok = std::ranges::all_of(outcomes, &CheckOutcome::ok);
    std::string text = rules_checked(outcomes, terminal_style());
    const bool overlaid = chosen->layers.size() > shipped->layers.size();
    if (!all_ok && overlaid) text += because_of_overlay(*chosen);
    const int delivered = deliver(text);
    if (delivered != done) return delivered;
    return all_ok ? done : checks_failed;
}

Command add_part(Command& rules, const Shared& arguments, const std::string& name,
                 const std::string& help, int (*action)(const RulesArguments&)) {
    Command part = rules.add_command(name, help);
    add_rules_option(part, arguments->rules);
    part.files().reads_plant(arguments->plant);
    part.option("--plant", &arguments->plant, "Plant folder whose overlay is laid on top")
        .value_name("DIR");
    part.runs([arguments, action] { return action(*arguments); });
    return part;
}

}  // namespace

void add_rules(Command& program) {
    Command command = program.add_command("rules", "Show and check the rule set");
    command.needs_command();
    const auto arguments = std::make_shared<RulesArguments>();
    add_part(command, arguments, "list", "Every table, the defaults, what an overlay changed",
             [](const RulesArguments& a) { return show(a, rules_list); });
    add_part(command, arguments, "show", "One table, every entry with basis and source", show_table)
        .option("table", &arguments->table, "Name of the table")
        .required()
        .value_name("TABLE");
    Command defaults =
        add_part(command, arguments, "defaults",
                 "What an empty cell takes, and where that stands among what may stand there",
                 show_defaults);
    add_format_option(defaults, arguments->format, "table or json", {"table", "json"});
    defaults.footer(
        "Each optional column of segments.csv that the method reads is tried on one\n"
        "reference segment: the risk with the cell empty, and with each value that may\n"
        "stand there. How common the values are is said by the distributions of the\n"
        "rule set. A default may stand at the median or on the cautious side of it: at\n"
        "most half of the values are worse. `x1.5 (20 %)` is a value that makes the\n"
        "risk half as great again and that one segment in five has.\n\n"
        "  lagline rules defaults\n"
        "  lagline rules defaults --rules published --format json");
    add_part(command, arguments, "check", "Run the checks written into the rule files", check);
    add_part(command, arguments, "sources", "The documents the values come from",
             [](const RulesArguments& a) { return show(a, rules_sources); });
    add_part(command, arguments, "recalled", "Values from memory, to check with a licensed copy",
             [](const RulesArguments& a) { return show(a, rules_recalled); });
    command.footer(
        "  lagline rules list --plant my-plant     the rules as that plant uses them\n"
        "  lagline rules show base_rate\n"
        "  lagline rules defaults                  what an empty cell takes, and who is worse\n"
        "  lagline rules check                     exit code 4 when a check fails");
}

}  // namespace lagline::cli
