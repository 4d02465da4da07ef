#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ruleset/yaml_reader.h"

namespace lagline {

/// Offset of the first byte of each line.
[[nodiscard]] std::vector<std::size_t> starts_of_lines(std::string_view text);

/// What a file has more of than the parser can read in bounded memory.
struct YamlExcess {
    int line = 0;  ///< from 1
    std::string found;
    std::string expected;
    std::string mend;
};

/// A line that is too long, or more open brackets than any file of people has; brackets in texts
/// and comments count too, which is no loss at this number.
[[nodiscard]] std::optional<YamlExcess> yaml_excess(const YamlFile& file);

}  // namespace lagline
