#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "blocks/row_vector.h"

namespace lagline {

/// Orders two rows of equal risk: true when the first goes before the second.  No two are alike.
using RowBefore = std::function<bool(std::uint32_t, std::uint32_t)>;

/// The `rows` by their risk, the greatest first; rows of equal risk as `before` has them.
/// @param risk_per_year  of every row that there is; finite where `rows` point
/// @param first          rows wanted in order: the others follow in an order of no meaning
[[nodiscard]] RowVector<std::uint32_t> by_falling_risk(
    std::span<const std::uint32_t> rows, ConstColumn risk_per_year, const RowBefore& before,
    const WorkPlan& plan = {}, std::size_t first = std::numeric_limits<std::size_t>::max());

/// Ranks of the `wanted` rows, from 1, in the order that by_falling_risk() would give `rows`, of
/// which they are; found by counting, which takes a fraction of the time where few are wanted.
[[nodiscard]] std::vector<std::uint32_t> ranks_by_risk(std::span<const std::uint32_t> wanted,
                                                       std::span<const std::uint32_t> rows,
                                                       ConstColumn risk_per_year,
                                                       const RowBefore& before,
                                                       const WorkPlan& plan = {});

}  // namespace lagline
