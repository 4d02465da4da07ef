#include "exposure/dew_point.h"

#include <algorithm>
#include <cmath>

namespace lagline {
namespace {

constexpr double a = 17.62;
constexpr double b_degc = 243.12;
constexpr double at_zero_pa = 611.2;
constexpr double least_humidity_percent = 0.1;  // the logarithm of dry air has no value

}  // namespace

double saturation_pressure_pa(double air_degc) {
    return at_zero_pa * std::exp(a * air_degc / (b_degc + air_degc));  // eq. 24
}

double dew_point_degc(double air_degc, double humidity_percent) {
    const double share = std::clamp(humidity_percent, least_humidity_percent, 100.0) / 100.0;
    const double gamma = std::log(share) + a * air_degc / (b_degc + air_degc);
    // Saturated air: rounding must not lift it above the air.
    return std::min(air_degc, b_degc * gamma / (a - gamma));  // eq. 25
}

}  // namespace lagline
