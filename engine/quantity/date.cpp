#include "quantity/date.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <system_error>

#include "diagnostics/text.h"

namespace lagline {
namespace {

std::chrono::year_month_day calendar(Date date) {
    return std::chrono::sys_days{std::chrono::days{date.days}};
}

Date anniversary(std::chrono::year_month_day start, int years) {
    // sys_days carries 29 February of a common year over to 1 March.
    const std::chrono::sys_days day{start + std::chrono::years{years}};
    return {static_cast<std::int32_t>(day.time_since_epoch().count())};
}

/// `text` as digits only, or nothing.
std::optional<unsigned> digits(std::string_view text) {
    unsigned value = 0;
    const char* const end = text.data() + text.size();
    const auto [at, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || at != end) return std::nullopt;
    return value;
}

std::string padded(unsigned value, std::size_t width) {
    const std::string text = std::to_string(value);
    return std::string(width - std::min(width, text.size()), '0') + text;
}

}  // namespace

std::optional<DateReading> parse_date(std::string_view text) {
    const auto trim = trimmed(text);
    const bool has_month = trim.size() >= 7;
    const bool has_day = trim.size() == 10;
    if (trim.size() != 4 && trim.size() != 7 && !has_day) return std::nullopt;
    if ((has_month && trim[4] != '-') || (has_day && trim[7] != '-')) return std::nullopt;

    const auto year = digits(trim.substr(0, 4));
    const auto month = has_month ? digits(trim.substr(5, 2)) : 1U;
    const auto day = has_day ? digits(trim.substr(8, 2)) : 1U;
    if (!year || !month || !day) return std::nullopt;
    if (*year < first_date_year || *year > last_date_year) return std::nullopt;

    const auto whole_year = static_cast<int>(*year);
    const std::chrono::year_month_day at{std::chrono::year{whole_year}, std::chrono::month{*month},
                                         std::chrono::day{*day}};
    if (!at.ok()) return std::nullopt;
    return DateReading{make_date(whole_year, *month, *day), has_day};
}

bool is_date_of_other_years(std::string_view text) {
    const auto trim = trimmed(text);
    if (trim.size() < 4 || parse_date(trim) || !digits(trim.substr(0, 4))) return false;
    // Each day of any year is one of a leap year too.
    return parse_date("2000" + std::string{trim.substr(4)}).has_value();
}

std::string to_string(Date date) {
    const auto at = calendar(date);
    const int year = static_cast<int>(at.year());
    const std::string sign = year < 0 ? "-" : "";
    return sign + padded(static_cast<unsigned>(year < 0 ? -year : year), 4) + '-' +
           padded(static_cast<unsigned>(at.month()), 2) + '-' +
           padded(static_cast<unsigned>(at.day()), 2);
}

namespace {

double years_on_calendar(Date from, Date to) {
    // One rule for both directions: the last anniversary not after `to`, then the part of the year
    // begun.  Within a year it is linear and at an anniversary it is whole, so it never falls.
    const auto start = calendar(from);
    int whole = year_of(to) - static_cast<int>(start.year());
    Date begun = anniversary(start, whole);
    Date next = begun;
    if (begun > to) {
        begun = anniversary(start, --whole);
    } else {
        next = anniversary(start, whole + 1);
    }
    return whole + static_cast<double>(to.days - begun.days) / (next.days - begun.days);
}

}  // namespace

double years_between(Date from, Date to) {
    // Columns of dates are full of repetitions: the pairs asked for last are kept, each thread its
    // own.  Day 0 to day 0 is 0 years, which is what the empty table says.
    struct Known {
        Date from;
        Date to;
        double years = 0.0;
    };
    static thread_local std::array<Known, 1024> table;
    Known& known = table[static_cast<std::uint32_t>(from.days) % table.size()];
    if (known.from != from || known.to != to) known = {from, to, years_on_calendar(from, to)};
    return known.years;
}

Date add_years(Date from, int years) { return anniversary(calendar(from), years); }

int year_of(Date date) { return static_cast<int>(calendar(date).year()); }

unsigned month_of(Date date) { return static_cast<unsigned>(calendar(date).month()); }

}  // namespace lagline
