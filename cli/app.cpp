#include "cli/app.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <exception>
#include <iostream>
#include <new>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "report/layout.h"

namespace lagline::cli {
namespace {

constexpr const char* about =
    "Ranks insulated pipe by the risk that corrosion under insulation makes it leak,\n"
    "says why, and shows every number's way from the input cell and the rule to the\n"
    "rank.";

constexpr const char* first_try =
    "A first try:\n"
    "  lagline new my-plant                   a folder with templates to fill in\n"
    "  lagline check my-plant                 everything that is wrong, then the gaps\n"
    "  lagline rank my-plant                  the list, the greatest risk first\n"
    "  lagline forecast my-plant              when each segment is due\n"
    "  lagline explain my-plant S-0107        why a segment stands where it does\n"
    "  lagline matrix my-plant                how many stand in each cell\n"
    "  lagline report my-plant --out r.html   all of it as a page for a browser\n"
    "\n";

constexpr std::string_view streams =
    "Results go to standard output, messages to standard error. NO_COLOR is respected.";

constexpr std::array meanings = {
    ExitMeaning{done, "done"}, ExitMeaning{failed, "could not (e.g. disk full)"},
    ExitMeaning{wrong_use, "wrong use"},
    ExitMeaning{bad_input, "errors in the plant folder, the rules or a part"},
    ExitMeaning{checks_failed, "a check of the rules or of a ledger failed"}};

constexpr std::size_t help_width = 80;

std::string footer() {
    std::string codes;
    for (const ExitMeaning& each : meanings) {
        codes += (codes.empty() ? "Exit codes: " : ", ") + std::to_string(each.code) + " ";
        codes += each.meaning;
    }
    return first_try + wrapped(codes + ". " + std::string{streams}, help_width, 0);
}

// The parser would only say that some command is needed.
bool refuse_unknown_command(const CLI::App& parser, int argc, const char* const* argv) {
    if (argc < 2 || *argv[1] == '-') return false;
    std::vector<std::string> names;
    for (const CLI::App* command : parser.get_subcommands({})) names.push_back(command->get_name());
    const std::string_view given = argv[1];
    if (std::ranges::find(names, given) != names.end()) return false;
    const std::vector<std::string_view> views{names.begin(), names.end()};
    const std::string meant = did_you_mean(given, views);
    std::cerr << "lagline: no command '" << printable(given) << "'; "
              << (meant.empty() ? "there are " + listing(views) : meant)
              << "\nRun with --help for more information.\n";
    return true;
}

}  // namespace

std::span<const ExitMeaning> exit_meanings() { return meanings; }

App::App() : parser_(std::make_unique<CLI::App>(about, "lagline")) {
    parser_->require_subcommand(1);
    parser_->set_version_flag("--version", std::string{"lagline "} + LAGLINE_VERSION);
    parser_->footer(footer());
    parser_->get_formatter()->column_width(30);
    Command program{*parser_, chosen_};
    add_new(program);
    add_check(program);
    add_rank(program);
    add_merge(program);
    add_uncertainty(program);
    add_explain(program);
    add_forecast(program);
    add_matrix(program);
    add_report(program);
    add_backtest(program);
    add_pool(program);
    add_plan(program);
    add_record(program);
    add_what_if(program);
    add_recoat(program);
    add_rules(program);
    add_runs(program);
    add_show(program);
    add_sign(program);
    add_verify(program);
    add_compare(program);
    add_synthesise(program);
    add_dictionary(program);
}

App::~App() = default;

int App::run(int argc, const char* const* argv) {
    if (refuse_unknown_command(*parser_, argc, argv)) return wrong_use;
    try {
        parser_->parse(argc, argv);
        return chosen_();
    } catch (const CLI::ParseError& error) {
        const bool asked_for_help = error.get_exit_code() == 0;
        parser_->exit(error, std::cout, std::cerr);
        return asked_for_help ? done : wrong_use;
    } catch (const std::bad_alloc&) {
        std::cerr << "lagline: out of memory\n";
    } catch (const std::exception& error) {
        std::cerr << "lagline: " << error.what() << "\n";
    }
    return failed;
}

std::string App::manual() const {
    std::string text =
        "# Commands\n\nMade by `lagline dictionary --commands`; a test fails when this page is "
        "stale. "
        "Do not edit it.\n\n## lagline\n\n```\n" +
        parser_->help() + "```\n";
    for (const CLI::App* command : parser_->get_subcommands({})) {
        text += "\n## lagline " + command->get_name() + "\n\n```\n" + command->help("lagline") +
                "```\n";
        for (const CLI::App* part : command->get_subcommands({})) {
            text += "\n### lagline " + command->get_name() + " " + part->get_name() + "\n\n```\n" +
                    part->help("lagline " + command->get_name()) + "```\n";
        }
    }
    return text;
}

ProgramDescription App::description(const std::vector<std::string>& rule_sets) const {
    return describe(*parser_, rule_sets);
}

}  // namespace lagline::cli
