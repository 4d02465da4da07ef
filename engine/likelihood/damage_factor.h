#pragma once

#include <array>

#include "blocks/column.h"

namespace lagline {

/// Share of the wall lost (eq. 8): rate x time / wall.  N rows; may exceed 1.
/// @source API RP 581, 3rd edition, Part 2 (recalled)
void wall_fraction(ConstColumn rate_mm_per_year, ConstColumn exposed_years, ConstColumn wall_mm,
                   Column fraction);

/// Coefficients of variation of the limit state.
struct Scatter {
    double thinning = 0.0;
    double flow_stress = 0.0;
    double pressure = 0.0;
};

/// Reliability index of one damage state (eq. 17).  N rows.
/// @param fraction  wall fraction A
/// @param ratio     strength ratio SR
/// @param state     rate factor D of the damage state
/// @source API RP 581, 3rd edition, Part 2, section 16 (beta_k)
void reliability_index(ConstColumn fraction, ConstColumn ratio, double state,
                       const Scatter& scatter, Column index);

/// Damage factor (eq. 18): probability of failure over the three states on the published base.
/// N rows; never above 1 / base.
/// @source API RP 581, 3rd edition, Part 2, section 16
void damage_factor(const std::array<ColumnRef, 3>& probability,
                   const std::array<ColumnRef, 3>& index, double base, Column damage);

/// Probability of failure in a year (eq. 20), at most `cap`.  N rows, [1/y].
/// @source API RP 581, 3rd edition, Part 1 (recalled)
void probability_of_failure(ConstColumn frequency_per_year, double management_factor,
                            ConstColumn damage, double cap, Column per_year);

}  // namespace lagline
