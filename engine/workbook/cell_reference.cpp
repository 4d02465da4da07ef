#include "workbook/cell_reference.h"

#include <charconv>
#include <system_error>

namespace lagline {

std::optional<CellReference> parse_cell_reference(std::string_view text) {
    CellReference cell;
    std::size_t letters = 0;
    while (letters < text.size() && text[letters] >= 'A' && text[letters] <= 'Z') {
        cell.column = cell.column * 26 + static_cast<std::uint32_t>(text[letters] - 'A' + 1);
        ++letters;
        if (cell.column > last_sheet_column) return std::nullopt;
    }
    const char* const end = text.data() + text.size();
    const auto [at, error] = std::from_chars(text.data() + letters, end, cell.row);
    const bool number = error == std::errc{} && at == end;
    if (letters == 0 || !number || cell.row == 0 || cell.row > last_sheet_row) return std::nullopt;
    return cell;
}

std::optional<CellRange> parse_cell_range(std::string_view text) {
    const auto colon = text.find(':');
    const auto first = parse_cell_reference(text.substr(0, colon));
    const auto last =
        colon == std::string_view::npos ? first : parse_cell_reference(text.substr(colon + 1));
    if (!first || !last) return std::nullopt;
    return CellRange{*first, *last};
}

}  // namespace lagline
