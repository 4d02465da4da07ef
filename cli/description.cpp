#include "cli/description.h"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "cli/words.h"

namespace lagline::cli {
namespace {

// The word by which commands ask for a rule set: see add_plant_options().
constexpr std::string_view rule_set_value = "NAME|DIR";

// The parser gives the value as "TEXT:{table,csv}" where the words are listed.
void set_value(OptionDescription& option, const std::string& type) {
    const std::size_t list = type.find(":{");
    option.value = type.substr(0, list);
    if (list == std::string::npos) return;
    const std::size_t begin = list + 2;
    option.choices = split(std::string_view{type}.substr(begin, type.find('}') - begin), ',');
}

OptionDescription describe(const CLI::Option& from, const std::vector<std::string>& rule_sets) {
    OptionDescription option;
    option.argument = from.get_positional();
    if (option.argument) {
        option.names = {from.get_name(true)};
    } else {
        for (const std::string& name : from.get_snames()) option.names.push_back("-" + name);
        for (const std::string& name : from.get_lnames()) option.names.push_back("--" + name);
    }
    option.help = from.get_description();
    if (from.get_items_expected_max() > 0) {
        set_value(option, from.get_type_name());
        option.preset = from.get_default_str();
    }
    if (option.value == rule_set_value) option.offered = rule_sets;
    option.required = from.get_required();
    option.several = from.get_items_expected_max() > 1;
    return option;
}

CommandDescription describe(const CLI::App& from, const std::string& name,
                            const std::vector<std::string>& rule_sets) {
    CommandDescription command;
    command.name = name;
    command.help = from.get_description();
    command.footer = from.get_footer();
    for (const CLI::Option* option : from.get_options()) {
        command.options.push_back(describe(*option, rule_sets));
    }
    return command;
}

}  // namespace

bool OptionDescription::takes(std::string_view kind) const {
    const auto words = split(value, '|');
    return std::ranges::find(words, kind) != words.end();
}

std::string_view CommandDescription::owner() const {
    const std::size_t gap = name.find(' ');
    return gap == std::string::npos ? std::string_view{} : std::string_view{name}.substr(0, gap);
}

std::string_view CommandDescription::word() const {
    const std::size_t gap = name.find(' ');
    return gap == std::string::npos ? name : std::string_view{name}.substr(gap + 1);
}

std::vector<const CommandDescription*> parts_of(const ProgramDescription& program,
                                                std::string_view name) {
    std::vector<const CommandDescription*> parts;
    for (const CommandDescription& each : program) {
        if (!each.name.empty() && each.owner() == name) parts.push_back(&each);
    }
    return parts;
}

ProgramDescription describe(const CLI::App& program, const std::vector<std::string>& rule_sets) {
    ProgramDescription all{describe(program, "", rule_sets)};
    for (const CLI::App* command : program.get_subcommands({})) {
        all.push_back(describe(*command, command->get_name(), rule_sets));
        for (const CLI::App* part : command->get_subcommands({})) {
            all.push_back(describe(*part, command->get_name() + " " + part->get_name(), rule_sets));
        }
    }
    return all;
}

}  // namespace lagline::cli
