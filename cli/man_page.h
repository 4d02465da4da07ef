#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/description.h"

namespace lagline::cli {

/// A manual page for man(1).
struct ManPage {
    std::string file;  ///< "lagline-rank.1"
    std::string text;  ///< roff, with the macros of man(7)
};

/// What the pages say of the version they were made by.
struct Edition {
    std::string_view version;  ///< "0.1.0"
    std::string_view date;     ///< "2026-11-28"
    std::string_view summary;  ///< what the program does, in a line
};

/// One page for the program, one for each of its commands.
[[nodiscard]] std::vector<ManPage> man_pages(const ProgramDescription& program,
                                             const Edition& edition);

/// One line of text as roff that shows it as it is: every hyphen, quote and backslash, and no
/// request, whatever it starts with.
[[nodiscard]] std::string roff(std::string_view line);

}  // namespace lagline::cli
