#pragma once

#include <filesystem>
#include <string_view>

namespace lagline {

// What the outputs say of their maker, each in a place that its format has for it.
inline constexpr std::string_view made_by_key = "made_by";  ///< first member of a JSON document
inline constexpr std::string_view made_by = "lagline";
inline constexpr std::string_view svg_mark = "<!-- made by lagline -->\n";
inline constexpr std::string_view html_mark = "<meta name=\"generator\" content=\"lagline\">\n";
inline constexpr std::string_view workbook_mark = "Made by lagline";  ///< its description

/// Whether a file holds an output of this program, so that a newer one may take its place without
/// a question.  Goes by the mark of its format; CSV by the heading, text by its first sentences.
/// A workbook that was saved by another program since, and a table of findings with findings typed
/// in, are no longer outputs.  A file without a byte has nothing to lose and counts as one.
/// @return  false also when it cannot be read
[[nodiscard]] bool is_own_output(const std::filesystem::path& file);

}  // namespace lagline
