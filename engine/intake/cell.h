#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "intake/heading.h"

namespace lagline {

/// What a cell holds, read by the plan of its column.
struct CellReading {
    enum class Outcome : std::uint8_t { empty, value, fault, bare_number } outcome{};
    bool imprecise = false;  ///< a date without a day
    double number = 0.0;     ///< in the field's unit
    std::uint8_t code = 0;
    std::int32_t days = 0;
    // Of a fault:
    Problem problem{};
    std::string found;
    std::string expected;
    std::string mend;
};

/// Reads `text` (trimmed, quotes undone).  Never allocates unless the cell is at fault.
/// `bare_number` says that the number has no unit though it needs one: the caller reports the
/// column once.
[[nodiscard]] CellReading read_cell(const ColumnPlan& plan, std::string_view text,
                                    const PlantMoney& money);

/// Stores what was read of a cell in row `row`, with its state.
void store_reading(SheetColumn& column, const FieldInfo& field, const CellReading& reading,
                   std::string_view text, std::size_t row, CellState state);

/// A number of a field as a person writes it, with the field's unit.
[[nodiscard]] std::string shown(const FieldInfo& field, double value);

}  // namespace lagline
