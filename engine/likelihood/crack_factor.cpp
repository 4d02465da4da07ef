#include "likelihood/crack_factor.h"

#include <algorithm>
#include <cmath>

namespace lagline {

ColumnsTried columns_tried(const InspectionCounts& counts) {
    constexpr double most_that_count = 6.0;
    ColumnsTried tried;
    double lower = 0.0;  // inspections of the category below, with what they took from below
    // InspectionCounts run from A to D, the columns of the table from D to A.
    for (std::size_t step = 0; step < telling_categories; ++step) {
        const double equivalent = counts[telling_categories - 1 - step] + std::floor(lower / 2.0);
        lower = equivalent;
        const auto times = static_cast<std::size_t>(std::min(equivalent, most_that_count));
        if (times == 0) continue;
        tried.columns[tried.count++] =
            static_cast<std::uint8_t>(1 + (times - 1) * telling_categories + step);
    }
    return tried;
}

BaseDamage base_damage_factor(const GridTable& table, std::uint8_t severity,
                              const InspectionCounts& counts) {
    BaseDamage least{table.at(severity, 0).value, 0};
    for (const std::uint8_t column : columns_tried(counts).all()) {
        const double value = table.at(severity, column).value;
        if (value < least.value) least = {value, column};
    }
    return least;
}

double aged_damage_factor(double base, double age_years, double known, const CrackGrowth& growth) {
    const double grown = base * std::pow(std::max(age_years, 1.0), growth.exponent);
    return std::max(growth.floor, known * std::min(grown, growth.cap));  // eq. 41
}

}  // namespace lagline
