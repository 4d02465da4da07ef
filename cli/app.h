#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command.h"
#include "cli/description.h"

namespace lagline::cli {

// What a command ends with.  Part of the contract with scripts: docs/commands.md.
enum ExitCode : int {
    done = 0,          ///< did what was asked
    failed = 1,        ///< could not: an output cannot be written, memory ran out
    wrong_use = 2,     ///< unknown option or argument
    bad_input = 3,     ///< the plant folder or the rules have errors
    checks_failed = 4  ///< a check of the rule set or of a ledger failed
};

/// The same for people.
struct ExitMeaning {
    ExitCode code;
    std::string_view meaning;
};
[[nodiscard]] std::span<const ExitMeaning> exit_meanings();

/// The program: its options and commands.  run() does what was parsed.
class App {
  public:
    App();
    ~App();
    App(const App&) = delete;
    App& operator=(const App&) = delete;
    /// Parses and runs.  @return an ExitCode
    int run(int argc, const char* const* argv);
    /// Every command with its help, as the manual page docs/commands.md.
    [[nodiscard]] std::string manual() const;
    /// Every command with its options, for manual pages and completions.
    /// @param rule_sets  names of the shipped ones
    [[nodiscard]] ProgramDescription description(const std::vector<std::string>& rule_sets) const;

  private:
    std::unique_ptr<CLI::App> parser_;
    std::function<int()> chosen_;
};

// One function per command, each in a file of its own.
void add_new(Command& program);
void add_check(Command& program);
void add_rank(Command& program);
void add_merge(Command& program);
void add_uncertainty(Command& program);
void add_explain(Command& program);
void add_forecast(Command& program);
void add_matrix(Command& program);
void add_report(Command& program);
void add_backtest(Command& program);
void add_pool(Command& program);
void add_plan(Command& program);
void add_record(Command& program);
void add_what_if(Command& program);
void add_recoat(Command& program);
void add_rules(Command& program);
void add_runs(Command& program);
void add_show(Command& program);
void add_sign(Command& program);
void add_verify(Command& program);
void add_compare(Command& program);
void add_synthesise(Command& program);
void add_dictionary(Command& program);

}  // namespace lagline::cli
