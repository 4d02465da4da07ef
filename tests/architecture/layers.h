#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace architecture {

/// True for a folder of engine/ and for cli.
[[nodiscard]] bool is_folder(std::string_view name);

/// True when a file of folder `from` may include a header of folder `to`.
[[nodiscard]] bool may_see(std::string_view from, std::string_view to);

/// What is wrong with the #include lines of a file of `folder`, one entry a line ("3: ...").
[[nodiscard]] std::vector<std::string> wrong_includes(std::string_view folder,
                                                      std::string_view source);

/// What is wrong with the targets that the CMakeLists.txt of engine/`folder` defines.
[[nodiscard]] std::vector<std::string> wrong_links(std::string_view folder,
                                                   std::string_view cmake_lists);

/// Places where a source of the engine writes to a stream of the process ("3: std::cout").
[[nodiscard]] std::vector<std::string> stream_writes(std::string_view source);

}  // namespace architecture
