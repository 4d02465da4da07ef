#pragma once

#include <string>

namespace lagline {

/// The shortest text that reads back as the same double.
[[nodiscard]] std::string exact_number(double value);
/// Appends exact_number(value) without making a string.
void append_number(std::string& text, double value);

/// The same without an exponent, however long that gets: "100000", not "1e+05".
[[nodiscard]] std::string plain_number(double value);

/// `value` with `digits` significant digits, for people: "0.558", "3040", "9.3e-05"; no trailing
/// zeros behind a point.
[[nodiscard]] std::string short_number(double value, int digits);

}  // namespace lagline
