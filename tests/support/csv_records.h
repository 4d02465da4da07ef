#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// Records of a CSV of RFC 4180, quotes undone: a reader apart from the one under test.
[[nodiscard]] std::vector<std::vector<std::string>> csv_records(std::string_view csv);

/// Content of a file; throws std::runtime_error when it cannot be read.
[[nodiscard]] std::string file_text(const std::string& path);

}  // namespace lagline
