#include "diagnostics/text.h"

#include <doctest/doctest.h>

#include <string>

using namespace lagline;
using namespace std::string_literals;

TEST_CASE("first_invalid_utf8 accepts the edges of RFC 3629, section 4") {
    for (const auto& text :
         {""s, "plain"s, "\x7F"s, "\u0080"s, "\u07FF"s, "\u0800"s, "\uD7FF"s, "\uE000"s, "\uFFFF"s,
          "\U00010000"s, "\U0010FFFF"s, "\0"s, "93 \u00B0C"s}) {
        CAPTURE(text);
        CHECK(first_invalid_utf8(text) == std::string::npos);
    }
}

TEST_CASE("first_invalid_utf8 finds what RFC 3629, sections 3 and 4, excludes") {
    struct Row {
        const char* what;
        std::string bytes;
    };
    for (const auto& row : {
             Row{"lone continuation", "\x80"},
             Row{"overlong slash in two bytes", "\xC0\xAF"},
             Row{"overlong in two bytes, last", "\xC1\xBF"},
             Row{"overlong in three bytes", "\xE0\x9F\xBF"},
             Row{"overlong in four bytes", "\xF0\x8F\xBF\xBF"},
             Row{"first surrogate", "\xED\xA0\x80"},
             Row{"last surrogate", "\xED\xBF\xBF"},
             Row{"above U+10FFFF", "\xF4\x90\x80\x80"},
             Row{"five-byte lead", "\xF8\x88\x80\x80\x80"},
             Row{"byte FE", "\xFE"},
             Row{"byte FF", "\xFF"},
             Row{"truncated two bytes", "\xC2"},
             Row{"truncated three bytes", "\xE2\x82"},
             Row{"truncated four bytes", "\xF0\x9F\x98"},
             Row{"broken by ASCII", "\xE2\x28\xA1"},
             Row{"ISO 8859-1 degree sign",
                 "\xB0"
                 "C"},
         }) {
        CAPTURE(row.what);
        CHECK(first_invalid_utf8(row.bytes) == 0);
        CHECK(first_invalid_utf8("ab\u00E9" + row.bytes + "z") == 4);
    }
}

TEST_CASE("display_width counts code points, and a bad byte as one") {
    CHECK(display_width("") == 0);
    CHECK(display_width("mm") == 2);
    CHECK(display_width("\u00B5m") == 2);
    CHECK(display_width("\U0001F527") == 1);
    CHECK(display_width("a\xFF\xFE") == 3);
}

TEST_CASE("printable shows control characters and bad bytes as \\xNN") {
    CHECK(printable("plain \u00B0C") == "plain \u00B0C");
    CHECK(printable("a\tb\n") == "a\\x09b\\x0A");
    CHECK(printable("\x1b[31m") == "\\x1B[31m");
    CHECK(printable("caf\xE9") == "caf\\xE9");
    CHECK(printable("\u009B") == "\\xC2\\x9B");  // a one-byte terminal command elsewhere
    // U+202E turns the reading direction; in two pieces, lest it turn this line.
    CHECK(printable("\xE2\x80"s + "\xAE"s + "abc") == "\\xE2\\x80\\xAEabc");
}

TEST_CASE("printable keeps within its columns and never cuts an escape or a code point") {
    CHECK(printable("abcdef", 6) == "abcdef");
    CHECK(printable("abcdefg", 6) == "abcde\u2026");
    CHECK(printable("\u00E9\u00E9\u00E9\u00E9", 3) == "\u00E9\u00E9\u2026");
    CHECK(printable("ab\xFF", 5) == "ab\u2026");
    CHECK(printable("abc", 0).empty());
    const std::string awkward = "a\xFF\u00E9\x01\xF0\x9F\x98\x80 tail\xC2";
    for (std::size_t most = 0; most < 40; ++most) {
        CAPTURE(most);
        const auto shown = printable(awkward, most);
        CHECK(display_width(shown) <= most);
        CHECK(first_invalid_utf8(shown) == std::string::npos);
    }
}

TEST_CASE("trimmed takes white space off both ends only") {
    CHECK(trimmed("  a b \r\n") == "a b");
    CHECK(trimmed("\u00A0 93\u00A0 ") == "93");
    CHECK(trimmed(" \t ").empty());
    CHECK(trimmed("").empty());
}

TEST_CASE("ascii_lower leaves other letters alone") {
    CHECK(ascii_lower("DegC \u00C9") == "degc \u00C9");
}
