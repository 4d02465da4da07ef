#include "degradation/coating.h"

namespace lagline {

void coating_credit(ConstColumn life_years, ConstColumn age_years, ConstColumn since_wall_years,
                    std::span<const std::uint8_t> failed, Column credit_years) {
    for (Eigen::Index i = 0; i < credit_years.size(); ++i) {
        credit_years[i] = coating_credit_years(life_years[i], age_years[i], since_wall_years[i],
                                               failed[static_cast<std::size_t>(i)] != 0);  // eq. 6
    }
}

void exposed_time(ConstColumn since_wall_years, ConstColumn credit_years, Column exposed_years) {
    exposed_years = (since_wall_years - credit_years).max(0.0);  // eq. 7
}

}  // namespace lagline
