#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/parallel.h"
#include "blocks/row_vector.h"
#include "diagnostics/diagnostic.h"
#include "plant/field.h"
#include "quantity/date.h"

namespace lagline {

/// Where the value of a cell comes from.  Everything from `imprecise` on is an assumption.
enum class CellState : std::uint8_t {
    absent,         ///< no value, and none is needed
    given,          ///< as the file says
    implied,        ///< follows from another column without a choice: a diameter from a size
    overridden,     ///< replaced by overrides.csv
    imprecise,      ///< given as a year or month only; its first day is taken
    derived,        ///< from other columns of the same segment
    plant_default,  ///< from `defaults` in plant.yaml
    rule_default,   ///< from the defaults of the rule set
};
[[nodiscard]] std::string_view describe(CellState state);
[[nodiscard]] constexpr bool is_assumption(CellState state) {
    return state >= CellState::imprecise;
}

/// Where the records of a text stand in the sheet of a workbook that it was made from.
struct SheetGrid {
    std::string sheet;                   ///< its name
    std::vector<std::uint64_t> offsets;  ///< first byte of each record
    std::vector<std::uint32_t> rows;     ///< row of each record, from 1
    /// Record that a byte belongs to.
    [[nodiscard]] std::size_t record_at(std::size_t offset) const;
};

/// The bytes of an input file; views into it live as long as it does.
struct SourceText {
    std::string file;        ///< name as shown to people
    std::string_view bytes;  ///< whole content, without a byte-order mark
    std::shared_ptr<const void> owner;
    std::shared_ptr<const SheetGrid> grid = {};  ///< of a text that was made from a sheet
};

/// The whole of a source as a place: its file, and the sheet where it is one of a workbook.
[[nodiscard]] Place whole_of(const SourceText& source);

/// One column.  Only the vector of the field's kind is filled, `states` always; both have one
/// entry per row, or are empty when the column is absent throughout.
struct SheetColumn {
    RowVector<double> numbers;          ///< quantity, in the field's unit
    RowVector<std::uint8_t> codes;      ///< word, flag (0 no, 1 yes) or pipe size
    RowVector<std::int32_t> days;       ///< date
    RowVector<std::string_view> texts;  ///< text; points into the source or the arena
    RowVector<CellState> states;
    int file_column = -1;  ///< position in the file, from 0; -1 when not there
};

/// A column that is not one of ours: kept as text, for site rules.
struct SiteColumn {
    std::string key;
    RowVector<std::string_view> texts;
    int file_column = -1;
};

/// The content of one file of the plant folder, column by column.
class Sheet {
  public:
    Sheet() = default;
    explicit Sheet(std::span<const FieldInfo> fields) : fields_(fields), columns_(fields.size()) {}

    [[nodiscard]] std::span<const FieldInfo> fields() const { return fields_; }
    [[nodiscard]] std::size_t rows() const { return rows_; }
    void set_rows(std::size_t rows) { rows_ = rows; }

    [[nodiscard]] const SheetColumn& column(std::size_t field) const { return columns_[field]; }
    [[nodiscard]] SheetColumn& column(std::size_t field) { return columns_[field]; }

    /// State of a cell; absent for a column that is not there.
    [[nodiscard]] CellState state(std::size_t field, std::size_t row) const {
        const auto& states = columns_[field].states;
        return states.empty() ? CellState::absent : states[row];
    }

    /// Makes the vectors of a column that is not there yet, every cell absent.
    void allocate(std::size_t field);

    /// The same without touching the cells: clear() must follow for every row.
    void make_room(std::size_t field);
    /// Makes the cells of `rows` absent.
    void clear(std::size_t field, RowRange rows);

    SourceText source;
    bool torn = false;                     ///< rows were lost to a quote that is never closed
    RowVector<std::uint64_t> row_offsets;  ///< byte where each row starts in `source`
    RowVector<std::uint32_t> row_lines;    ///< line, or row of a workbook, from 1
    std::vector<SiteColumn> site_columns;
    /// Owns texts that differ from the source (quotes undone, defaults).
    std::vector<std::shared_ptr<const std::string>> arena;

  private:
    std::span<const FieldInfo> fields_;
    std::vector<SheetColumn> columns_;
    std::size_t rows_ = 0;
};

/// A sheet whose columns are named by an enumeration.
template <class Field>
class SheetOf : public Sheet {
  public:
    using Sheet::column;
    using Sheet::Sheet;
    using Sheet::state;
    [[nodiscard]] const SheetColumn& column(Field f) const { return Sheet::column(index_of(f)); }
    [[nodiscard]] SheetColumn& column(Field f) { return Sheet::column(index_of(f)); }
    [[nodiscard]] CellState state(Field f, std::size_t row) const {
        return Sheet::state(index_of(f), row);
    }
    [[nodiscard]] std::span<const double> numbers(Field f) const { return column(f).numbers; }
    [[nodiscard]] std::span<const std::uint8_t> codes(Field f) const { return column(f).codes; }
    [[nodiscard]] std::span<const std::int32_t> days(Field f) const { return column(f).days; }
    [[nodiscard]] std::span<const std::string_view> texts(Field f) const { return column(f).texts; }
    [[nodiscard]] bool has(Field f, std::size_t row) const {
        return state(f, row) != CellState::absent;
    }
};

using SegmentSheet = SheetOf<SegmentField>;
using InspectionSheet = SheetOf<InspectionField>;
using TurnaroundSheet = SheetOf<TurnaroundField>;
using OverrideSheet = SheetOf<OverrideField>;

}  // namespace lagline
