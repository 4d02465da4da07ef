#pragma once

#include <cstdint>
#include <string_view>

namespace lagline {

/// What the number of a cell stands for, by the number format it is shown in.
enum class NumberMeaning : std::uint8_t {
    plain,    ///< the number
    percent,  ///< hundredths: 0.5 is 50 %
    date,     ///< days of a calendar, with the time of day behind the point
    time,     ///< part of a day
    elapsed,  ///< days that are shown as hours: 1.5 is 36:00:00
};

/// Of a format that the file does not define, by its number.
[[nodiscard]] NumberMeaning meaning_of_built_in(std::uint32_t format);

/// Of a format code: "yyyy\-mm\-dd", "0.0%".  The first section counts.
[[nodiscard]] NumberMeaning meaning_of_code(std::string_view code);

}  // namespace lagline
