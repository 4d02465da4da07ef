#pragma once

#include <string>
#include <string_view>

#include "workbook/shared_texts.h"
#include "workbook/workbook_parts.h"

namespace lagline {

/// A cell as the file has it.
struct RawCell {
    std::string type;  ///< attribute t; empty for a number
    std::uint32_t style = 0;
    std::string value;     ///< of the element v
    std::string own_text;  ///< of the element is
    bool formula = false;
};

/// What a cell comes to.
struct CellText {
    std::string text;
    std::string problem;  ///< why there is no text; then `expected` and `mend` say what to do
    std::string expected;
    std::string mend;
    bool damaged = false;  ///< the file is wrong, not the person who filled it
};

/// What the cells of a workbook are read with.
struct CellContext {
    const TextList& shared;
    const CellStyles& styles;
    DateSystem dates = DateSystem::from_1900;
};

/// The text of a cell: numbers in the shortest form that reads back the same, without an exponent;
/// percentages with their sign; dates as YYYY-MM-DD; booleans as yes and no; formulas as the value
/// that was stored with them.
[[nodiscard]] CellText text_of(const RawCell& cell, const CellContext& context);

}  // namespace lagline
