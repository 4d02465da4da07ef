#include "workbook/serial_date.h"

#include <cmath>

#include "quantity/date.h"

namespace lagline {
namespace {

constexpr std::int64_t seconds_of_day = 86'400;
constexpr double most_days = 2'958'466.0;  // one past 9999-12-31 in the system from 1900

std::string two_digits(std::int64_t number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
}

std::string clock_text(std::int64_t seconds) {
    return two_digits(seconds / 3600) + ":" + two_digits(seconds / 60 % 60) + ":" +
           two_digits(seconds % 60);
}

bool in_reach(double days) { return days >= 0.0 && days < most_days; }

std::optional<Date> day_of(std::int64_t serial, DateSystem system) {
    const auto from = [serial](int year, unsigned month, unsigned day) {
        return Date{make_date(year, month, day).days + static_cast<std::int32_t>(serial)};
    };
    if (system == DateSystem::from_1904) return from(1904, 1, 1);
    if (serial < 1 || serial == 60) return std::nullopt;
    return serial < 60 ? from(1899, 12, 31) : from(1899, 12, 30);
}

}  // namespace

std::optional<std::string> date_text(double serial, DateSystem system) {
    if (!in_reach(serial)) return std::nullopt;
    const auto seconds = std::llround(serial * static_cast<double>(seconds_of_day));
    const auto day = day_of(seconds / seconds_of_day, system);
    if (!day || *day > make_date(9999, 12, 31)) return std::nullopt;
    const auto rest = seconds % seconds_of_day;
    return rest == 0 ? to_string(*day) : to_string(*day) + " " + clock_text(rest);
}

std::optional<std::string> time_text(double days) {
    if (!in_reach(days)) return std::nullopt;
    return clock_text(std::llround(days * static_cast<double>(seconds_of_day)));
}

}  // namespace lagline
