#include "learning/forecast.h"

#include "likelihood/normal.h"

namespace lagline {

double probability_below(const ExpectedWall& wall, double limit_mm,
                         const std::array<double, damage_states>& state_factor, double variation) {
    const double missing_mm = wall.known_mm - limit_mm;
    if (missing_mm <= 0.0) return 1.0;  // it was there already
    double probability = 0.0;
    for (std::size_t k = 0; k < damage_states; ++k) {
        const double loss_mm = state_factor[k] * wall.lost_since_mm;
        if (loss_mm <= 0.0) continue;
        probability += wall.state_probability[k] *  // eq. 73
                       normal_cdf((loss_mm - missing_mm) / (variation * loss_mm));
    }
    return probability;
}

}  // namespace lagline
