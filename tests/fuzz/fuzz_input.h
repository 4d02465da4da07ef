#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "diagnostics/diagnostic.h"

namespace lagline {

/// The bytes of one run as text.
[[nodiscard]] inline std::string text_of(const std::uint8_t* data, std::size_t size) {
    return {data, data + size};
}

/// Stops the run as a crash where something does not hold that must hold for every input.
inline void must_hold(bool holds, const char* what) {
    if (holds) return;
    static_cast<void>(std::fprintf(stderr, "does not hold: %s\n", what));
    std::abort();
}

/// A refusal must say something, and what it says must be printable on a page or in a terminal.
inline void must_be_told(const Report& report, bool refused) {
    must_hold(!refused || report.errors() > 0, "what is refused is refused with an error");
    const std::string told = to_text(report);
    must_hold(refused == false || !told.empty(), "an error has a text");
    for (const char c : told) {
        must_hold(static_cast<unsigned char>(c) >= 0x20U || c == '\n', "no control characters");
    }
}

}  // namespace lagline
