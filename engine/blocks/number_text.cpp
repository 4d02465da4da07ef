#include "blocks/number_text.h"

#include <charconv>
#include <cmath>
#include <cstdio>

namespace lagline {

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

std::string short_number(double value, int digits) {
    if (value == 0.0) return "0";
    if (!std::isfinite(value)) return exact_number(value);
    const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
    char text[64];
    if (exponent < -4 || exponent >= 15) {
        const auto end = std::to_chars(text, text + sizeof text, value,
                                       std::chars_format::scientific, digits - 1)
                             .ptr;
        std::string shown{text, end};
        const auto e = shown.find('e');
        const auto last = shown.find_last_not_of('0', e - 1);
        if (shown.find('.') < e)
            shown.erase(shown[last] == '.' ? last : last + 1,
                        e - (shown[last] == '.' ? last : last + 1));
        return shown;
    }
    // Whole digits in front of the point are always shown: 304.1 with 2 digits is 304, not 3e2.
    const int decimals = std::max(0, digits - 1 - exponent);
    const auto end =
        std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, decimals).ptr;
    std::string shown{text, end};
    if (shown.find('.') != std::string::npos) {
        shown.erase(shown.find_last_not_of('0') + 1);
        if (shown.ends_with('.')) shown.pop_back();
    }
    return shown;
}

}  // namespace lagline
