#include "cli/command.h"

#include <CLI/CLI.hpp>
#include <charconv>
#include <limits>
#include <type_traits>

#include "blocks/number_text.h"
#include "cli/app.h"
#include "diagnostics/text.h"
#include "quantity/date.h"
#include "quantity/unit.h"

namespace lagline::cli {
namespace {

std::string between_text(const std::string& least, const std::string& most) {
    return "between " + least + " and " + most;
}

std::string quoted(const std::string& text) { return "'" + printable(text) + "'"; }

// The whole of the text as a whole number; nothing for any other, and for one beyond the type.
template <class Whole>
std::optional<Whole> whole_number(const std::string& text) {
    Whole value{};
    const char* const last = text.data() + text.size();
    const auto [end, error] = std::from_chars(text.data(), last, value);
    if (error != std::errc{} || end != last || text.empty()) return std::nullopt;
    return value;
}

std::string check_count(const std::string& text, std::uint64_t most) {
    const auto value = whole_number<std::uint64_t>(text);
    if (value && *value <= most) return "";
    return quoted(text) + " is not a whole number " + between_text("0", std::to_string(most));
}

std::string check_whole(const std::string& text, std::int64_t least, std::int64_t most) {
    const auto value = whole_number<std::int64_t>(text);
    if (value && *value >= least && *value <= most) return "";
    return quoted(text) + " is not a whole number " +
           between_text(std::to_string(least), std::to_string(most));
}

// NaN, infinities and what overflows are no numbers here, as in a plant folder.
std::string check_number(const std::string& text, double least, double most) {
    const NumberReading reading = read_number(text);
    const bool is_number = reading.fault == NumberFault::none;
    if (is_number && reading.value >= least && reading.value <= most) return "";
    return quoted(text) + " is not a number " +
           between_text(exact_number(least), exact_number(most));
}

std::string check_day(const std::string& text) {
    const auto date = parse_date(text);
    if (date && date->precise) return "";
    return quoted(text) + " is not a date as YYYY-MM-DD, of the years 1900 to 2200";
}

// The largest count that the place for it can take.
std::uint64_t most_of(const Target& target) {
    return std::visit(
        [](auto* place) -> std::uint64_t {
            using Value = std::remove_pointer_t<decltype(place)>;
            if constexpr (std::is_integral_v<Value>) {
                return static_cast<std::uint64_t>(std::numeric_limits<Value>::max());
            }
            return std::numeric_limits<std::uint64_t>::max();
        },
        target);
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

Option& Option::count() {
    return check([most = most_](const std::string& text) { return check_count(text, most); },
                 "count");
}

Option& Option::whole_between(std::int64_t least, std::int64_t most) {
    return check([=](const std::string& text) { return check_whole(text, least, most); }, "whole");
}

Option& Option::between(double least, double most) {
    return check([=](const std::string& text) { return check_number(text, least, most); },
                 "number");
}

Option& Option::day() { return check(check_day, "day"); }

Command Command::add_command(const std::string& name, const std::string& help) {
    return {*parser_->add_subcommand(name, help), *chosen_};
}

void Command::needs_command() { parser_->require_subcommand(1); }

Option Command::option(const std::string& name, Target target, const std::string& help) {
    return std::visit(
        [&](auto* place) {
            return Option{*parser_->add_option(name, *place, help), most_of(target)};
        },
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
