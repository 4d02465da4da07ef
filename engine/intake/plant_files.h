#pragma once

#include <span>
#include <string_view>

namespace lagline {

/// Names of the files that are read from a plant folder, whether they are there or not.  Beside
/// them the folder may hold rule files, below `rules`.
[[nodiscard]] std::span<const std::string_view> plant_file_names();

}  // namespace lagline
