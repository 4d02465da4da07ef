#pragma once

#include <algorithm>
#include <cstdint>
#include <span>

#include "blocks/column.h"

namespace lagline {

/// Years out of the last `since_wall_years` for which a coating is credited (eq. 6), one segment:
/// min(life, age) - min(life, age - since_wall), the second term 0 for a coating that is no older
/// than the last reading.  Both branches of the source are in this one expression.
[[nodiscard]] inline double coating_credit_years(double life_years, double age_years,
                                                 double since_wall_years, bool failed) {
    if (failed) return 0.0;
    return std::min(life_years, age_years) -
           std::min(life_years, std::max(age_years - since_wall_years, 0.0));
}

/// Years of the exposed time for which the coating is credited with protection (eq. 6).  N rows.
/// @param life_years         expected life of the coating by its quality [y], >= 0
/// @param age_years          age of the coating at the date of calculation [y], >= 0
/// @param since_wall_years   time since the wall was last known [y], >= 0
/// @param failed             1 where an inspection found that the coating had failed
/// @param[out] credit_years  credit [y], 0 <= credit <= since_wall_years
/// @source API RP 581, 3rd edition, Part 2, section 16 (recalled): where the wall was known no
/// later
///   than the coating was applied, the whole life counts; otherwise only what was left of it then.
void coating_credit(ConstColumn life_years, ConstColumn age_years, ConstColumn since_wall_years,
                    std::span<const std::uint8_t> failed, Column credit_years);

/// Time the steel has corroded since its wall was last known (eq. 7).  N rows, [y], never below 0.
/// @source API RP 581, 3rd edition, Part 2, section 16 (recalled)
void exposed_time(ConstColumn since_wall_years, ConstColumn credit_years, Column exposed_years);

}  // namespace lagline
