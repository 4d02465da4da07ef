#pragma once

#include <cstdint>
#include <span>

#include "blocks/column.h"

namespace lagline {

/// Years from the last reading until the minimum thickness is reached at the greater of the
/// long-term and the short-term rate (eq. 43); 0 where the wall is below the minimum.  N rows.
/// @param rates_known  1 where there are rates
/// @param[out] known   1 where there is a remaining life: rates are known and not both 0
/// @source API 570, remaining life calculations
void remaining_life(ConstColumn wall_mm, ConstColumn minimum_mm, ConstColumn long_term_mm_per_year,
                    ConstColumn short_term_mm_per_year, std::span<const std::uint8_t> rates_known,
                    Column life_years, std::span<std::uint8_t> known);

}  // namespace lagline
