#include "cli/app.h"

#include <exception>
#include <iostream>
#include <new>

namespace lagline::cli {
namespace {

constexpr const char* about =
    "Ranks insulated pipe by the risk that corrosion under insulation makes it leak, says why, and "
    "shows every number's way from the input cell and the rule to the rank.";

constexpr const char* footer =
    "A first try:\n"
    "  lagline new my-plant                   a folder with templates to fill in\n"
    "  lagline check my-plant                 everything that is wrong, then the gaps\n"
    "  lagline rank my-plant                  the list, the greatest risk first\n"
    "  lagline explain my-plant S-0107        why a segment stands where it does\n"
    "\n"
    "Exit codes: 0 done, 1 could not (e.g. disk full), 2 wrong use, 3 errors in the plant folder\n"
    "or the rules, 4 a check of the rules failed. Results go to standard output, messages to\n"
    "standard error. NO_COLOR is respected.";

}  // namespace

App::App() : parser_(std::make_unique<CLI::App>(about, "lagline")) {
    parser_->require_subcommand(1);
    parser_->set_version_flag("--version", std::string{"lagline "} + LAGLINE_VERSION);
    parser_->footer(footer);
    parser_->get_formatter()->column_width(34);
    const Choose choose = [this](std::function<int()> action) { chosen_ = std::move(action); };
    add_new(*parser_, choose);
    add_check(*parser_, choose);
    add_rank(*parser_, choose);
    add_explain(*parser_, choose);
    add_rules(*parser_, choose);
    add_synthesise(*parser_, choose);
    add_dictionary(*parser_, choose);
}

int App::run(int argc, const char* const* argv) {
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

}  // namespace lagline::cli
