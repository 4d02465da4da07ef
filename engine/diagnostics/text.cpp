#include "diagnostics/text.h"

#include <cstdint>
#include <cstring>

namespace lagline {
namespace {

constexpr std::string_view ellipsis = "\u2026";
constexpr std::string_view no_break_space = "\u00A0";

struct CodePoint {
    char32_t value = 0;
    std::size_t bytes = 0;  ///< 0 when the text is not valid UTF-8 here
};

constexpr std::uint8_t byte_at(std::string_view text, std::size_t at) {
    return static_cast<std::uint8_t>(text[at]);
}

/// What a lead byte announces: length of the sequence, its payload, and the least code point that
/// needs this length (anything below is an overlong form).
struct Lead {
    std::size_t bytes = 0;
    char32_t payload = 0;
    char32_t least = 0;
};

Lead lead_of(std::uint8_t first) {
    if (first < 0x80) return {1, first, 0};
    if (first >= 0xC2 && first < 0xE0) return {2, first & 0x1FU, 0x80};
    if (first >= 0xE0 && first < 0xF0) return {3, first & 0x0FU, 0x800};
    if (first >= 0xF0 && first < 0xF5) return {4, first & 0x07U, 0x10000};
    return {};
}

/// The code point that starts at `at`, after RFC 3629: no overlong form, no surrogate, no value
/// above U+10FFFF.
CodePoint decode(std::string_view text, std::size_t at) {
    const Lead lead = lead_of(byte_at(text, at));
    if (lead.bytes == 0 || text.size() - at < lead.bytes) return {};
    char32_t value = lead.payload;
    for (std::size_t i = 1; i < lead.bytes; ++i) {
        const std::uint8_t next = byte_at(text, at + i);
        if ((next & 0xC0U) != 0x80U) return {};
        value = (value << 6U) | (next & 0x3FU);
    }
    const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (value < lead.least || surrogate || value > 0x10FFFF) return {};
    return {value, lead.bytes};
}

/// True for code points that move the cursor, start a terminal command, break the line or turn the
/// reading direction: shown raw they would let an input file forge what a person reads.
bool is_control(char32_t c) {
    if (c < 0x20 || (c >= 0x7F && c <= 0x9F)) return true;
    if (c == 0x2028 || c == 0x2029) return true;
    return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

std::string escaped(std::string_view bytes) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        const std::uint8_t byte = byte_at(bytes, i);
        text += "\\x";
        text += digits[byte >> 4U];
        text += digits[byte & 0x0FU];
    }
    return text;
}

// Bytes from `at` on that are ASCII, counted eight at a time: most text is nothing else.
std::size_t ascii_words(std::string_view text, std::size_t at) {
    constexpr std::uint64_t high_bits = 0x8080808080808080U;
    std::size_t bytes = 0;
    for (; text.size() - at - bytes >= sizeof(std::uint64_t); bytes += sizeof(std::uint64_t)) {
        std::uint64_t word = 0;
        std::memcpy(&word, text.data() + at + bytes, sizeof word);
        if ((word & high_bits) != 0) break;
    }
    return bytes;
}

bool is_space(char c) { return c == ' ' || (c >= '\t' && c <= '\r'); }

}  // namespace

std::size_t first_invalid_utf8(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        at += ascii_words(text, at);
        if (at == text.size()) break;
        const auto point = decode(text, at);
        if (point.bytes == 0) return at;
        at += point.bytes;
    }
    return std::string_view::npos;
}

std::size_t display_width(std::string_view text) {
    std::size_t columns = 0;
    for (std::size_t at = 0; at < text.size(); ++columns) {
        const auto point = decode(text, at);
        at += point.bytes == 0 ? 1 : point.bytes;  // a bad byte takes a column of its own
    }
    return columns;
}

std::string printable(std::string_view text, std::size_t most) {
    std::string shown;
    std::size_t columns = 0;
    std::size_t cut = 0;  // bytes of `shown` that leave room for the ellipsis
    for (std::size_t at = 0; at < text.size();) {
        const auto point = decode(text, at);
        const auto bytes = text.substr(at, point.bytes == 0 ? 1 : point.bytes);
        const bool raw = point.bytes != 0 && !is_control(point.value);
        const std::size_t wanted = raw ? 1 : 4 * bytes.size();
        if (wanted > most - columns) {
            shown.resize(cut);
            if (most > 0) shown += ellipsis;
            return shown;
        }
        shown += raw ? std::string(bytes) : escaped(bytes);
        columns += wanted;
        if (columns < most) cut = shown.size();
        at += bytes.size();
    }
    return shown;
}

std::string_view trimmed(std::string_view text) {
    while (true) {
        if (!text.empty() && is_space(text.front())) {
            text.remove_prefix(1);
        } else if (!text.empty() && is_space(text.back())) {
            text.remove_suffix(1);
        } else if (text.starts_with(no_break_space)) {  // common in cells pasted from elsewhere
            text.remove_prefix(no_break_space.size());
        } else if (text.ends_with(no_break_space)) {
            text.remove_suffix(no_break_space.size());
        } else {
            return text;
        }
    }
}

std::string ascii_lower(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return lower;
}

}  // namespace lagline
