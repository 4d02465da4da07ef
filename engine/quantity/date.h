#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

/// A calendar day of the proleptic Gregorian calendar.
struct Date {
    std::int32_t days = 0;  ///< since 1970-01-01

    friend constexpr auto operator<=>(Date, Date) = default;
};

[[nodiscard]] constexpr Date make_date(int year, unsigned month, unsigned day) {
    const std::chrono::sys_days at{std::chrono::year{year} / std::chrono::month{month} /
                                   std::chrono::day{day}};
    return {static_cast<std::int32_t>(at.time_since_epoch().count())};
}

/// Dates of other years are refused.
inline constexpr unsigned first_date_year = 1900;
inline constexpr unsigned last_date_year = 2200;

/// A date as ISO 8601 writes it: YYYY-MM-DD, or with reduced precision YYYY-MM or YYYY, which is
/// read as its first day (`precise` is then false).  Years first_date_year to last_date_year.
struct DateReading {
    Date date;
    bool precise = true;
};
[[nodiscard]] std::optional<DateReading> parse_date(std::string_view text);

/// True for what parse_date() would read, were it not for the year.
[[nodiscard]] bool is_date_of_other_years(std::string_view text);

/// YYYY-MM-DD.
[[nodiscard]] std::string to_string(Date date);

/// Years from `from` to `to`: whole anniversaries, then days over the length of the year begun, so
/// that 2010-01-01 to 2025-01-01 is exactly 15.  Negative when `to` is before `from`; never falls
/// when `to` moves on.  A 29 February has its anniversary on 1 March.
[[nodiscard]] double years_between(Date from, Date to);

/// The day `years` whole calendar years after `from`; 29 February becomes 1 March.
[[nodiscard]] Date add_years(Date from, int years);

/// Calendar year and month (1 to 12) of a date.
[[nodiscard]] int year_of(Date date);
[[nodiscard]] unsigned month_of(Date date);

}  // namespace lagline
