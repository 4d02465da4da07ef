#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace lagline::cli {

/// Name (may hold folders) and content.
using FileContents = std::vector<std::pair<std::string, std::string>>;

/// Makes `folder` with `files` in it, whole or not at all.  The folder must not exist, or be empty.
/// @return empty when done; otherwise what went wrong
[[nodiscard]] std::string make_folder(const std::filesystem::path& folder,
                                      const FileContents& files);

/// The templates of a new plant folder: small, commented, and without an error.
[[nodiscard]] FileContents starter_files();

}  // namespace lagline::cli
