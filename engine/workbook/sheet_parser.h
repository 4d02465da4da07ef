#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "workbook/cell_reference.h"
#include "workbook/cell_value.h"

namespace lagline {

/// A cell that holds something.
struct SheetCell {
    std::uint32_t column = 0;  ///< from 1
    std::string_view text;
};

/// Takes the cells of a row, in the order of columns; false to stop.
using TakeRow = std::function<bool(std::uint32_t row, std::span<const SheetCell> cells)>;
/// Takes a cell that has no text.
using TakeProblem = std::function<void(CellReference where, CellText problem)>;

/// What a sheet says beside its cells.
struct SheetFacts {
    std::size_t hidden_rows = 0;  ///< of those that hold something
    std::uint32_t first_hidden_row = 0;
    std::size_t hidden_columns = 0;  ///< likewise
    std::uint32_t first_hidden_column = 0;
    std::vector<CellRange> merged;  ///< ranges that reach into the part that holds something
};

/// Reads the cells of a sheet row by row.
/// @return  why it cannot be read, or cannot be read on
[[nodiscard]] std::optional<WorkbookFault> read_sheet_part(
    const PartReading& with, const std::string& part, const CellContext& context,
    const TakeRow& take_row, const TakeProblem& take_problem, SheetFacts& facts);

}  // namespace lagline
