#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"

namespace lagline {

/// The `rows` by their risk, the greatest first; rows of equal risk keep their order.
/// @param risk_per_year  of every row that there is; finite where `rows` point
[[nodiscard]] std::vector<std::uint32_t> by_falling_risk(std::span<const std::uint32_t> rows,
                                                         ConstColumn risk_per_year);

}  // namespace lagline
