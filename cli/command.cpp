#include "cli/command.h"

#include <CLI/CLI.hpp>

#include "cli/app.h"
#include "quantity/date.h"

namespace lagline::cli {
namespace {

// The parser's own words for a range would stand in the help after the value's name.
template <typename Number>
CLI::Validator in_range(Number least, Number most) {
    return CLI::Range(least, most).description("");
}

std::string check_count(const std::string& text) {
    const bool digits = !text.empty() && text.find_first_not_of("0123456789") == text.npos;
    return digits ? std::string{} : "'" + text + "' is not a whole number from 0 on";
}

std::string check_day(const std::string& text) {
    const auto date = parse_date(text);
    return date && date->precise ? "" : "'" + text + "' is not a date as YYYY-MM-DD";
}

}  // namespace

Option& Option::required() {
    option_->required();
    return *this;
}

Option& Option::value_name(const std::string& word) {
    option_->type_name(word);
    return *this;
}

Option& Option::shows_default() {
    option_->capture_default_str();
    return *this;
}

Option& Option::check(const CheckText& check, const std::string& name) {
    option_->check(CLI::Validator{check, "", name});
    return *this;
}

Option& Option::one_of(const std::vector<std::string>& words) {
    option_->check(CLI::IsMember(words));
    return *this;
}

Option& Option::count() { return check(check_count, "count"); }

Option& Option::whole_between(std::int64_t least, std::int64_t most) {
    option_->check(in_range(least, most));
    return *this;
}

Option& Option::between(double least, double most) {
    option_->check(in_range(least, most));
    return *this;
}

Option& Option::day() { return check(check_day, "day"); }

Command Command::add_command(const std::string& name, const std::string& help) {
    return {*parser_->add_subcommand(name, help), *chosen_};
}

void Command::needs_command() { parser_->require_subcommand(1); }

Option Command::option(const std::string& name, Target target, const std::string& help) {
    return std::visit([&](auto* place) { return Option{*parser_->add_option(name, *place, help)}; },
                      target);
}

void Command::flag(const std::string& name, bool& target, const std::string& help) {
    parser_->add_flag(name, target, help);
}

void Command::footer(const std::string& text) { parser_->footer(text); }

void Command::runs(std::function<int()> action) {
    parser_->callback([chosen = chosen_, files = files_, action = std::move(action)] {
        *chosen = [files, action] {
            const int refused = files->check();
            return refused == done ? action() : refused;
        };
    });
}

}  // namespace lagline::cli
