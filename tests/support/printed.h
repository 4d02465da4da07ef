#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// `value` with as many decimals as `like` has, in its form: 0.0412 like "0.04120" is "0.04120",
/// 0.093022 like "1.0000e-02" is "9.3022e-02".  Agreement to every printed digit is equality of
/// the texts.
[[nodiscard]] std::string printed_like(double value, std::string_view like);

/// Factors that are exact by definition: international inch, psi, thousandth of an inch a year.
inline constexpr double mm_per_inch = 25.4;
inline constexpr double mm_per_mil = 0.0254;
inline constexpr double mpa_per_psi = 4.4482216152605 / (25.4 * 25.4);  // pound-force, square inch

[[nodiscard]] constexpr double degc_from_degf(double degf) { return (degf - 32.0) / 1.8; }

}  // namespace lagline
