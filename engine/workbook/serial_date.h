#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace lagline {

/// What a workbook counts its days from.
enum class DateSystem : std::uint8_t {
    from_1900,  ///< 1 is 1900-01-01, and there is a 1900-02-29 that never was: 60
    from_1904,  ///< 0 is 1904-01-01
};

/// A date number as text: YYYY-MM-DD, with " HH:MM:SS" behind it when it is not midnight.
/// Nothing for a number that is no day: before the first, after 9999-12-31, or 60 of from_1900.
[[nodiscard]] std::optional<std::string> date_text(double serial, DateSystem system);

/// A part of a day, or days shown as hours, as HH:MM:SS; nothing when it is negative or absurd.
[[nodiscard]] std::optional<std::string> time_text(double days);

}  // namespace lagline
