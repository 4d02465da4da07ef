#include "degradation/coating.h"

namespace lagline {

void coating_credit(ConstColumn life_years, ConstColumn age_years, ConstColumn since_wall_years,
                    std::span<const std::uint8_t> failed, Column credit_years) {
    // min(life, age) - min(life, age - since_wall), where the second term is 0 for a coating that
    // is no older than the last reading: the two branches of the source in one expression.
    credit_years = life_years.min(age_years) -
                   life_years.min((age_years - since_wall_years).max(0.0));  // eq. 6
    for (Eigen::Index i = 0; i < credit_years.size(); ++i) {
        if (failed[static_cast<std::size_t>(i)] != 0) credit_years[i] = 0.0;
    }
}

void exposed_time(ConstColumn since_wall_years, ConstColumn credit_years, Column exposed_years) {
    exposed_years = (since_wall_years - credit_years).max(0.0);  // eq. 7
}

}  // namespace lagline
