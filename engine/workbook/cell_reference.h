#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

// The last row and column that the format has: XFD1048576.
inline constexpr std::uint32_t last_sheet_row = 1'048'576;
inline constexpr std::uint32_t last_sheet_column = 16'384;

/// A cell of a sheet, counted from 1.
struct CellReference {
    std::uint32_t row = 0;
    std::uint32_t column = 0;
    friend bool operator==(CellReference, CellReference) = default;
};

/// "F41"; nothing for what is no cell of a sheet.
[[nodiscard]] std::optional<CellReference> parse_cell_reference(std::string_view text);

/// The first and the last cell of "A1:F41" or "A1".
struct CellRange {
    CellReference first;
    CellReference last;
};
[[nodiscard]] std::optional<CellRange> parse_cell_range(std::string_view text);

}  // namespace lagline
