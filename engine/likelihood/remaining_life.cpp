#include "likelihood/remaining_life.h"

#include <algorithm>

namespace lagline {

void remaining_life(ConstColumn wall_mm, ConstColumn minimum_mm, ConstColumn long_term_mm_per_year,
                    ConstColumn short_term_mm_per_year, std::span<const std::uint8_t> rates_known,
                    Column life_years, std::span<std::uint8_t> known) {
    for (std::size_t i = 0; i < known.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const double rate = std::max(long_term_mm_per_year[row], short_term_mm_per_year[row]);
        known[i] = rates_known[i] != 0 && rate > 0.0 ? 1 : 0;
        const double left_mm = std::max(0.0, wall_mm[row] - minimum_mm[row]);
        life_years[row] = known[i] != 0 ? left_mm / rate : 0.0;  // eq. 43
    }
}

}  // namespace lagline
