#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace CLI {  // NOLINT(readability-identifier-naming): the parser's own
class App;
}

namespace lagline::cli {

/// An option or argument of a command, as the parser has it.
struct OptionDescription {
    std::vector<std::string> names;  ///< "-h", "--help"; of an argument its one bare name
    std::string help;
    std::string value = {};                 ///< word for its value in the help; empty: takes none
    std::vector<std::string> choices = {};  ///< the words it takes, when there are no others
    std::vector<std::string> offered = {};  ///< words it takes among others
    std::string preset = {};                ///< what holds without it, where the help shows that
    bool argument = false;
    bool required = false;
    bool several = false;
    /// True when a FILE, or a DIR, can stand there.
    [[nodiscard]] bool takes(std::string_view kind) const;
};

/// A command, or a part of one.
struct CommandDescription {
    std::string name;  ///< "rules", "rules show"; empty for the program itself
    std::string help;
    std::string footer;
    std::vector<OptionDescription> options;  ///< arguments among them, in the order of declaration
    /// "rules" of "rules show"; empty for the program, and for a command of the program.
    [[nodiscard]] std::string_view owner() const;
    /// "show" of "rules show".
    [[nodiscard]] std::string_view word() const;
};

/// The program first, each command, and after a command its parts.
using ProgramDescription = std::vector<CommandDescription>;

/// The commands below `name`: of the program for an empty one.
[[nodiscard]] std::vector<const CommandDescription*> parts_of(const ProgramDescription& program,
                                                              std::string_view name);

/// What the parser of the whole program was told.
/// @param rule_sets  names of the shipped ones, offered where a rule set is asked for
[[nodiscard]] ProgramDescription describe(const CLI::App& program,
                                          const std::vector<std::string>& rule_sets);

}  // namespace lagline::cli
