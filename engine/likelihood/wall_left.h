#pragma once

#include <array>

#include "blocks/column.h"
#include "likelihood/updating.h"

namespace lagline {

/// Wall to be expected (eq. 56): over the damage states, the wall last known less D_k times the
/// expected loss, never below 0, weighted with the probability of the state.  N rows.
/// @param wall_mm        wall last known [mm]
/// @param wall_fraction  expected loss since, as a share of it
/// @param states         probability of each damage state, N rows each
/// @param factors        D_k, how many times the expected loss each state stands for
/// @param[out] left_mm   [mm]
void expected_wall(ConstColumn wall_mm, ConstColumn wall_fraction,
                   const std::array<ColumnRef, damage_states>& states,
                   const std::array<double, damage_states>& factors, Column left_mm);

/// Probability that less than the minimum thickness is left (eq. 57): in each damage state the loss
/// is spread normally around D_k times the expected one.  Without loss it is 0 or 1.  N rows.
/// @param minimum_mm    [mm]
/// @param cov_thinning  coefficient of variation of the loss
/// @source the loss term of the reliability index of API RP 581, 3rd edition, Part 2, section 16
void below_minimum(ConstColumn wall_mm, ConstColumn wall_fraction, ConstColumn minimum_mm,
                   const std::array<ColumnRef, damage_states>& states,
                   const std::array<double, damage_states>& factors, double cov_thinning,
                   Column probability);

}  // namespace lagline
