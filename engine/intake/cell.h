#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "intake/heading.h"

namespace lagline {

/// What is wrong with a cell.
struct CellFault {
    Problem problem{};
    std::string found;
    std::string expected;
    std::string mend;
};

/// The value of a cell: the member of its column's kind, none for a text.
struct CellValue {
    double number = 0.0;  ///< in the field's unit
    std::int32_t days = 0;
    std::uint8_t code = 0;
    bool imprecise = false;  ///< a date without a day
};

/// What a cell holds, read by the plan of its column.
struct CellReading {
    enum class Outcome : std::uint8_t { empty, value, fault, bare_number } outcome{};
    CellValue value;
    std::unique_ptr<CellFault> fault;  ///< when the outcome is a fault
};

/// Reads `text` (trimmed, quotes undone).  Never allocates unless the cell is at fault.
/// `bare_number` says that the number has no unit though it needs one: the caller reports the
/// column once.
[[nodiscard]] CellReading read_cell(const ColumnPlan& plan, std::string_view text,
                                    const PlantMoney& money);

/// What keeps a cell from being a value: its fault, or that the number has no unit.
[[nodiscard]] CellFault fault_of(const ColumnPlan& plan, std::string_view text,
                                 CellReading reading);

/// Stores the value of a cell in row `row`, with its state.
inline void store_value(SheetColumn& column, FieldKind kind, const CellValue& value,
                        std::string_view text, std::size_t row, CellState state) {
    column.states[row] = state;
    switch (kind) {
        case FieldKind::text:
            column.texts[row] = text;
            break;
        case FieldKind::quantity:
            column.numbers[row] = value.number;
            break;
        case FieldKind::date:
            column.days[row] = value.days;
            break;
        case FieldKind::word:
        case FieldKind::flag:
        case FieldKind::pipe_size:
            column.codes[row] = value.code;
            break;
    }
}

/// A number of a field as a person writes it, with the field's unit.
[[nodiscard]] std::string shown(const FieldInfo& field, double value);

}  // namespace lagline
