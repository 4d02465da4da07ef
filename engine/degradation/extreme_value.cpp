#include "degradation/extreme_value.h"

#include <cmath>
#include <numbers>

namespace lagline {
namespace {

// Of a Gumbel distribution of location 0 and scale 1.
constexpr double standard_mean = std::numbers::egamma;
constexpr double standard_deviation =
    std::numbers::pi / (std::numbers::sqrt2 * std::numbers::sqrt3);

}  // namespace

Gumbel Gumbel::of_moments(double mean, double deviation) {
    const double scale = deviation / standard_deviation;
    return {mean - standard_mean * scale, scale};
}

double Gumbel::below(double x) const { return std::exp(-std::exp(-(x - location) / scale)); }

double Gumbel::quantile(double probability) const {
    return location - scale * std::log(-std::log(probability));
}

double Gumbel::return_level(double period) const {
    // As quantile(1 - 1/period), without the loss of digits for a long period.
    return location - scale * std::log(-std::log1p(-1.0 / period));
}

Gumbel Gumbel::largest_of(double areas) const {
    return {location + scale * std::log(areas), scale};  // eq. 45
}

double Gumbel::mean() const { return location + standard_mean * scale; }

double Gumbel::deviation() const { return standard_deviation * scale; }

double surface_factor(double share, double scatter) {
    return Gumbel{1.0, scatter}.largest_of(1.0 / share).location;
}

}  // namespace lagline
