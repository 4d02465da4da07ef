#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>
#include <system_error>

#include "diagnostics/text.h"
#include "quantity/unit.h"

namespace lagline {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// A number at the start of a text, and what is left behind it.
struct Start {
    NumberReading reading;
    std::string_view rest;
};

Start start_of(std::string_view text) {
    Start start;
    auto digits = text;
    // from_chars knows no plus sign; "+-7" stays refused.
    if (digits.starts_with('+') && !digits.starts_with("+-")) digits.remove_prefix(1);
    const char* const end = digits.data() + digits.size();
    const auto [at, error] = std::from_chars(digits.data(), end, start.reading.value);
    start.rest = digits.substr(static_cast<std::size_t>(at - digits.data()));
    if (error == std::errc::invalid_argument) {
        start.reading.fault = NumberFault::not_a_number;
    } else if (error == std::errc::result_out_of_range || !std::isfinite(start.reading.value)) {
        // Too small for a double is refused as too large is: no plant has either, and reading it
        // as 0 would hide a slip of the pen.
        start.reading = {0.0, NumberFault::not_finite, {}};
    }
    return start;
}

/// True when `text` is a number once its commas are taken out, each of them before a digit.
bool has_comma_decimal(std::string_view text) {
    if (text.find(',') == std::string_view::npos) return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == ',' && (i + 1 == text.size() || !is_digit(text[i + 1]))) return false;
    }
    std::string plain(text);
    std::erase(plain, ',');
    const auto start = start_of(plain);
    return start.rest.empty() && start.reading.fault == NumberFault::none;
}

NumberReading faulty(NumberFault fault) { return {0.0, fault, {}}; }

/// The "12,5" of "12,5 mm".
std::string_view without_unit(std::string_view text) {
    return text.substr(0, text.find_first_not_of("0123456789.,+-"));
}

/// True when `rest`, which follows a number directly, may be a unit.
bool may_be_unit(std::string_view rest) {
    const auto unit = trimmed(rest);
    const bool apart = unit.data() != rest.data();
    if (unit.empty() || unit == "-") return true;
    if (apart && unit.starts_with("1/")) return true;  // "0.01 1/y"
    return std::string_view("0123456789.,+-").find(unit.front()) == std::string_view::npos;
}

/// True for "info", whose first letters read as infinity.
bool starts_a_word(std::string_view text, std::string_view rest) {
    const auto number = text.substr(0, text.size() - rest.size());
    return !number.empty() && is_letter(number.back()) && !rest.empty() && is_letter(rest.front());
}

}  // namespace

NumberReading read_number(std::string_view text) {
    const auto trim = trimmed(text);
    if (trim.empty()) return faulty(NumberFault::empty);
    const auto start = start_of(trim);
    if (start.rest.empty()) return start.reading;
    return faulty(has_comma_decimal(trim) ? NumberFault::comma_decimal : NumberFault::not_a_number);
}

NumberReading read_quantity(std::string_view text) {
    const auto trim = trimmed(text);
    if (trim.empty()) return faulty(NumberFault::empty);
    auto start = start_of(trim);
    if (has_comma_decimal(without_unit(trim))) return faulty(NumberFault::comma_decimal);
    if (starts_a_word(trim, start.rest) || !may_be_unit(start.rest)) {
        return faulty(NumberFault::not_a_number);
    }
    if (start.reading.fault == NumberFault::none) start.reading.unit = trimmed(start.rest);
    return start.reading;
}

}  // namespace lagline
