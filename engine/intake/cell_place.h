#pragma once

#include <string>
#include <string_view>

#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"

namespace lagline {

/// File, line and column of a cell; the row's first column when the file does not have the
/// column.  The record is split again: cells are asked for one by one, by people.
[[nodiscard]] Place cell_place(const Sheet& sheet, std::size_t field, std::size_t row);

/// The cell as the file has it; empty when the file does not have the column.
[[nodiscard]] std::string cell_text(const Sheet& sheet, std::size_t field, std::size_t row);

/// Adds a diagnostic about one cell, with its place and excerpt.
void add_at_cell(Report& report, const Sheet& sheet, std::size_t field, std::size_t row,
                 Severity severity, Problem problem, std::string found, std::string expected,
                 std::string mend);

/// The stored value of a cell as text with its unit, e.g. "93 degC", "2011-09-01", "yes".
/// @param words  key of the cell's word, for a column of words
[[nodiscard]] std::string value_text(const Sheet& sheet, std::size_t field, std::size_t row,
                                     std::string_view word);

}  // namespace lagline
