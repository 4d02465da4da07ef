#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/command_files.h"

namespace CLI {  // NOLINT(readability-identifier-naming): the parser's own
class App;
class Option;
}  // namespace CLI

namespace lagline::cli {

/// Where the parser puts what was given.
using Target =
    std::variant<std::string*, std::optional<std::string>*, std::vector<std::string>*, int*,
                 unsigned*, std::int64_t*, std::uint64_t*, double*, std::optional<std::size_t>*>;

/// What is wrong with a text; empty: nothing.
using CheckText = std::function<std::string(const std::string&)>;

/// An option or argument of a command.
///
/// Commands are declared through these two classes, so that one source alone compiles the
/// templates of the option parser; it takes several times as long as a command.
class Option {
  public:
    /// @param most  largest count that its target can take
    Option(CLI::Option& option, std::uint64_t most) : option_(&option), most_(most) {}
    Option& required();
    /// The word for its value in the help.
    Option& value_name(const std::string& word);
    /// The help shows the value the target holds now.
    Option& shows_default();
    Option& check(const CheckText& check, const std::string& name);
    Option& one_of(const std::vector<std::string>& words);
    /// A whole number from 0 to what the target can take: the parser would take -1 for a very large
    /// one.
    Option& count();
    Option& whole_between(std::int64_t least, std::int64_t most);
    /// A finite number; NaN and infinities are refused.
    Option& between(double least, double most);
    /// A day as YYYY-MM-DD.
    Option& day();

  private:
    CLI::Option* option_;
    std::uint64_t most_;
};

/// The program or one of its commands; a handle, to be copied freely.  Names, helps and targets
/// are as the parser has them: an argument has a bare name, an option dashes.
class Command {
  public:
    /// @param chosen  where the action of the command that was given is put
    Command(CLI::App& parser, std::function<int()>& chosen)
        : parser_(&parser), chosen_(&chosen), files_(std::make_shared<CommandFiles>()) {}
    [[nodiscard]] Command add_command(const std::string& name, const std::string& help);
    /// One of its commands must be given.
    void needs_command();
    /// @param target  outlives the parsing
    Option option(const std::string& name, Target target, const std::string& help);
    /// A name that starts with ! sets its target to false.
    void flag(const std::string& name, bool& target, const std::string& help);
    /// What the help ends with.
    void footer(const std::string& text);
    /// What the command reads and writes; options that name a file are declared here too.
    [[nodiscard]] CommandFiles& files() { return *files_; }
    /// What the command does once its files have been looked at.  @param action  gives an ExitCode
    void runs(std::function<int()> action);

  private:
    CLI::App* parser_;
    std::function<int()>* chosen_;
    std::shared_ptr<CommandFiles> files_;
};

}  // namespace lagline::cli
