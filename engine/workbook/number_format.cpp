#include "workbook/number_format.h"

#include <string>

namespace lagline {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// True for the inside of [h], [mm], [ss].
bool is_elapsed(std::string_view inside) {
    if (inside.empty()) return false;
    const char first = lower(inside.front());
    if (first != 'h' && first != 'm' && first != 's') return false;
    for (const char c : inside) {
        if (lower(c) != first) return false;
    }
    return true;
}

// The first section of a code, without what is shown as it stands: quoted texts, escaped
// characters, fill, colours, conditions.
struct Bare {
    std::string text;
    bool elapsed = false;
};

Bare bare_section(std::string_view code) {
    Bare bare;
    std::size_t at = 0;
    while (at < code.size() && code[at] != ';') {
        const char c = code[at];
        if (c == '"') {
            const auto close = code.find('"', at + 1);
            at = close == std::string_view::npos ? code.size() : close + 1;
        } else if (c == '\\' || c == '_' || c == '*') {
            at += 2;
        } else if (c == '[') {
            const auto close = code.find(']', at + 1);
            if (close == std::string_view::npos) break;
            bare.elapsed = bare.elapsed || is_elapsed(code.substr(at + 1, close - at - 1));
            at = close + 1;
        } else {
            bare.text += lower(c);
            ++at;
        }
    }
    return bare;
}

bool has_any(std::string_view text, std::string_view letters) {
    return text.find_first_of(letters) != std::string_view::npos;
}

}  // namespace

NumberMeaning meaning_of_built_in(std::uint32_t format) {
    if (format == 9 || format == 10) return NumberMeaning::percent;
    if (format >= 18 && format <= 21) return NumberMeaning::time;
    if (format == 45 || format == 47) return NumberMeaning::time;
    if (format == 46) return NumberMeaning::elapsed;
    const bool day = (format >= 14 && format <= 17) || format == 22 ||
                     (format >= 27 && format <= 36) || (format >= 50 && format <= 58);
    return day ? NumberMeaning::date : NumberMeaning::plain;
}

NumberMeaning meaning_of_code(std::string_view code) {
    const Bare bare = bare_section(code);
    if (bare.elapsed) return NumberMeaning::elapsed;
    if (bare.text.find("general") != std::string::npos) return NumberMeaning::plain;
    if (has_any(bare.text, "%")) return NumberMeaning::percent;
    const bool time = has_any(bare.text, "hs");
    // Placeholders of digits make a number, save in ss.000.
    if (has_any(bare.text, "#?") || (has_any(bare.text, "0") && !time)) return NumberMeaning::plain;
    if (has_any(bare.text, "yd")) return NumberMeaning::date;
    if (time) return NumberMeaning::time;
    return has_any(bare.text, "m") ? NumberMeaning::date : NumberMeaning::plain;
}

}  // namespace lagline
