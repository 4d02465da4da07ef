#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/parallel.h"
#include "quantity/date.h"

namespace lagline {

/// What the cells of a column hold, for whoever shows them.
enum class CellKind : std::uint8_t { text, count, number, money, date };

struct OutputColumn {
    std::string heading;
    CellKind kind = CellKind::text;
    std::string unit = {};  ///< of a number; empty for a pure one
};

/// Takes the cells of a row one after the other.
class TableCells {
  public:
    virtual ~TableCells() = default;
    virtual void text(std::string_view text) = 0;
    virtual void count(std::size_t count) = 0;
    virtual void number(double number) = 0;
    virtual void date(Date date) = 0;
    virtual void empty() = 0;
};

/// A table of results.  What its cells are is said here once, for CSV and for a workbook.
class OutputTable {
  public:
    virtual ~OutputTable() = default;
    [[nodiscard]] virtual std::vector<OutputColumn> columns() const = 0;
    [[nodiscard]] virtual std::size_t rows() const = 0;
    /// Gives as many cells as there are columns.  Rows may be written at the same time.
    virtual void write_row(std::size_t row, TableCells& cells) const = 0;
    /// Says that this row will be written soon, so that it can be on its way from the memory.
    virtual void expect_row(std::size_t /*row*/) const {}
};

/// The table as CSV (RFC 4180, LF).  Numbers are printed to read back as the same double; texts
/// that a spreadsheet would run as a formula are neutralised.
[[nodiscard]] std::string csv_of(const OutputTable& table, const WorkPlan& plan = {});

}  // namespace lagline
