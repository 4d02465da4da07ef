#include "report/log_axis.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace lagline {

double LogAxis::at(double value) const {
    const double decade = value > 0.0 ? std::log10(value) : first;
    return begin_px + (std::clamp<double>(decade, first, last) - first) * decade_px();
}

double LogAxis::from() const { return std::pow(10.0, first); }
double LogAxis::to() const { return std::pow(10.0, last); }

void choose_decades(LogAxis& axis, std::span<const double> limits, std::span<const double> values,
                    int most) {
    constexpr double spare = 10.0;
    double least = std::numeric_limits<double>::infinity();
    double greatest = 0.0;
    for (const double limit : limits) {
        if (!std::isfinite(limit) || limit <= 0.0) continue;
        least = std::min(least, limit / spare);
        greatest = std::max(greatest, limit * spare);
    }
    for (const double value : values) {
        if (!std::isfinite(value) || value <= 0.0) continue;
        least = std::min(least, value);
        greatest = std::max(greatest, value);
    }
    if (greatest <= 0.0) return;
    axis.last = static_cast<int>(std::ceil(std::log10(greatest)));
    axis.first = std::max(static_cast<int>(std::floor(std::log10(least))), axis.last - most);
    axis.first = std::min(axis.first, axis.last - 1);
}

}  // namespace lagline
