#pragma once

#include <string_view>

#include "quantity/date.h"
#include "synthesis/dice.h"
#include "synthesis/line.h"

namespace lagline {

/// Insulation and coating of one age, as the records give them.
struct Protection {
    Date date;  ///< insulated and coated
    DatePrecision precision{};
    bool renewed = false;  ///< applied in the field, years after the pipe was built
    std::string_view insulation_type;
    int insulation_mm = 0;
    std::string_view jacket;
    std::string_view coating_system;
    std::string_view coating_quality;
    int film_um = 0;  ///< 0 where there is no coating
    std::string_view preparation;
    int yard_months = 0;
};

/// What the line was built with.
[[nodiscard]] Protection original_protection(Dice& dice, const Line& line);

/// What a segment was given when its insulation was renewed on `date`.
[[nodiscard]] Protection renewed_protection(Dice& dice, const Line& line, Date date);

}  // namespace lagline
