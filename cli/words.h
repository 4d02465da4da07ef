#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace lagline::cli {

/// The parts of `text` between the characters `at`; a last empty part is left out.
[[nodiscard]] std::vector<std::string> split(std::string_view text, char at);

/// The reverse: `words` with `between` between each two.
[[nodiscard]] std::string joined(const std::vector<std::string>& words, std::string_view between);

}  // namespace lagline::cli
