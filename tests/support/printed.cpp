#include "support/printed.h"

#include <array>
#include <charconv>

namespace lagline {

std::string printed_like(double value, std::string_view like) {
    const auto exponent = like.find('e');
    const auto point = like.find('.');
    const auto end = exponent == std::string_view::npos ? like.size() : exponent;
    const auto decimals = point == std::string_view::npos ? 0 : static_cast<int>(end - point - 1);
    const auto form = exponent == std::string_view::npos ? std::chars_format::fixed
                                                         : std::chars_format::scientific;
    std::array<char, 400> digits{};
    const auto done =
        std::to_chars(digits.data(), digits.data() + digits.size(), value, form, decimals);
    return {digits.data(), done.ptr};
}

}  // namespace lagline
