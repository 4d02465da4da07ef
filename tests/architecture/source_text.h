#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace architecture {

[[nodiscard]] std::vector<std::string_view> lines(std::string_view text);

[[nodiscard]] std::string_view without_leading_space(std::string_view line);

/// C++ `source` with comments and the insides of literals blanked out; line breaks stay.
[[nodiscard]] std::string without_comments_and_strings(std::string_view source);

/// True when `line` holds `word` and no letter, digit or underscore touches it.
[[nodiscard]] bool has_word(std::string_view line, std::string_view word);

struct CMakeCommand {
    std::string name;
    std::vector<std::string> words;
};
/// The commands of a CMakeLists.txt, comments left out.  Words are split at white space and quotes.
[[nodiscard]] std::vector<CMakeCommand> cmake_commands(std::string_view text);

}  // namespace architecture
