#include "blocks/number_text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace lagline {
namespace {

// Without the zeros that end a decimal part, and without a point that ends it.
std::string without_zeros(std::string decimal) {
    if (decimal.find('.') == std::string::npos) return decimal;
    decimal.erase(decimal.find_last_not_of('0') + 1);
    if (decimal.ends_with('.')) decimal.pop_back();
    return decimal;
}

}  // namespace

void append_number(std::string& text, double value) {
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
    text.append(digits.data(), end);
}

std::string exact_number(double value) {
    std::string text;
    append_number(text, value);
    return text;
}

std::string plain_number(double value) {
    // The longest: 17 digits behind some 323 zeros.
    std::array<char, 400> digits{};
    const auto end =
        std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed)
            .ptr;
    return {digits.data(), end};
}

std::string short_number(double value, int digits) {
    if (value == 0.0) return "0";
    if (!std::isfinite(value)) return exact_number(value);
    const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
    std::array<char, 64> text{};
    const auto written = [&](std::chars_format form, int decimals) {
        const auto end =
            std::to_chars(text.data(), text.data() + text.size(), value, form, decimals).ptr;
        return std::string{text.data(), end};
    };
    if (exponent < -4 || exponent >= 15) {
        const std::string shown = written(std::chars_format::scientific, digits - 1);
        const auto power = shown.find('e');
        return without_zeros(shown.substr(0, power)) + shown.substr(power);
    }
    // Whole digits in front of the point are always shown: 304.1 with 2 digits is 304, not 3e2.
    return without_zeros(written(std::chars_format::fixed, std::max(0, digits - 1 - exponent)));
}

}  // namespace lagline
