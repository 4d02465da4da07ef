#pragma once

#include <algorithm>

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

}  // namespace lagline
