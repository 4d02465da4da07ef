#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// How text for a terminal is laid out.
struct TextStyle {
    std::size_t width = 100;
    bool colour = false;
};

/// A column of a terminal table.
struct TableColumn {
    std::string heading;
    bool right = false;    ///< numbers stand at the right
    std::size_t most = 0;  ///< widest a cell may be; 0 for no limit
};

/// A table for a terminal: columns as wide as their content, two blanks apart, a rule under the
/// heading; cells that do not fit are cut with an ellipsis.  Cells may hold colour codes made by
/// coloured().
[[nodiscard]] std::string text_table(const std::vector<TableColumn>& columns,
                                     const std::vector<std::vector<std::string>>& rows,
                                     const TextStyle& style);

enum class Tone { plain, strong, quiet, bad, warn, good };
/// `text` in a tone, when the style has colours.
[[nodiscard]] std::string coloured(std::string_view text, Tone tone, const TextStyle& style);

/// Tone of a risk band, by its place among so many: the two highest stand out.
[[nodiscard]] Tone tone_of_band(std::size_t band, std::size_t bands);

/// `text` in lines of at most `width` columns, every line after the first indented by `indent`.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width, std::size_t indent);

/// "1 segment", "12 segments".
[[nodiscard]] std::string counted(std::size_t count, std::string_view noun);

/// Money in a narrow column: 92M, 510k, 0.5.
[[nodiscard]] std::string compact(double money);

/// Layers of a rule set for people: "published + extended".
[[nodiscard]] std::string layers_text(std::span<const std::string> layers);

/// 12345678 as "12 345 678".
[[nodiscard]] std::string grouped(double value);

}  // namespace lagline
