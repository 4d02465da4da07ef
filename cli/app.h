#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace lagline::cli {

// What a command ends with.  Part of the contract with scripts: docs/commands.md.
enum ExitCode : int {
    done = 0,          ///< did what was asked
    failed = 1,        ///< could not: an output cannot be written, memory ran out
    wrong_use = 2,     ///< unknown option or argument
    bad_input = 3,     ///< the plant folder or the rules have errors
    checks_failed = 4  ///< a check of the rule set or of a ledger failed
};

/// The program: its options and commands.  run() does what was parsed.
class App {
  public:
    App();
    /// Parses and runs.  @return an ExitCode
    int run(int argc, const char* const* argv);
    /// Every command with its help, as the manual page docs/commands.md.
    [[nodiscard]] std::string manual() const;

  private:
    std::unique_ptr<CLI::App> parser_;
    std::function<int()> chosen_;
};

/// Sets what run() will do when the command is parsed.
using Choose = std::function<void(std::function<int()>)>;

// One function per command, each in a file of its own.
void add_new(CLI::App& app, const Choose& choose);
void add_check(CLI::App& app, const Choose& choose);
void add_rank(CLI::App& app, const Choose& choose);
void add_uncertainty(CLI::App& app, const Choose& choose);
void add_explain(CLI::App& app, const Choose& choose);
void add_forecast(CLI::App& app, const Choose& choose);
void add_matrix(CLI::App& app, const Choose& choose);
void add_report(CLI::App& app, const Choose& choose);
void add_backtest(CLI::App& app, const Choose& choose);
void add_pool(CLI::App& app, const Choose& choose);
void add_plan(CLI::App& app, const Choose& choose);
void add_what_if(CLI::App& app, const Choose& choose);
void add_recoat(CLI::App& app, const Choose& choose);
void add_rules(CLI::App& app, const Choose& choose);
void add_runs(CLI::App& app, const Choose& choose);
void add_show(CLI::App& app, const Choose& choose);
void add_sign(CLI::App& app, const Choose& choose);
void add_verify(CLI::App& app, const Choose& choose);
void add_compare(CLI::App& app, const Choose& choose);
void add_synthesise(CLI::App& app, const Choose& choose);
void add_dictionary(CLI::App& app, const Choose& choose);

}  // namespace lagline::cli
