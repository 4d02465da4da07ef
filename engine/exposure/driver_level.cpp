#include "exposure/driver_level.h"

#include <algorithm>
#include <cmath>

namespace lagline {

std::uint8_t nearest_driver(double level) {
    return static_cast<std::uint8_t>(std::max(0.0, std::ceil(level - 0.5)));
}

RuleHit find_at_level(const CurveTable& table, double level, double at) {
    const double severer = std::floor(level);
    const double part = level - severer;
    const auto code = static_cast<std::uint8_t>(severer);
    RuleHit hit = table.find(code, at);
    if (part > 0.0) {
        const RuleHit milder = table.find(static_cast<std::uint8_t>(code + 1), at);
        hit.value += (milder.value - hit.value) * part;
    }
    return hit;
}

double peak_at_level(const CurveTable& table, double level) {
    double peak = 0.0;
    for (const double at : table.points) {
        peak = std::max(peak, find_at_level(table, level, at).value);
    }
    return peak;
}

double place_in_band(double value, double start, double end) {
    return std::clamp((value - start) / (end - start), 0.0, 1.0);
}

}  // namespace lagline
