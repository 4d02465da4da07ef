#include "exposure/dead_leg.h"

#include <algorithm>
#include <cmath>

namespace lagline {

DeadLeg::DeadLeg(double length_m, double transmittance_w_per_m_k, double conductivity_w_per_m_k,
                 double metal_area_m2)
    : length_m_(length_m),
      m_per_m_(std::sqrt(transmittance_w_per_m_k / (conductivity_w_per_m_k * metal_area_m2))) {}

double DeadLeg::decay(double station_m) const {
    // cosh(m(L-x)) / cosh(mL) with the growing exponential taken out: both would overflow for a leg
    // of some hundred times its decay length.
    return std::exp(-m_per_m_ * station_m) *
           (1.0 + std::exp(-2.0 * m_per_m_ * (length_m_ - station_m))) /
           (1.0 + std::exp(-2.0 * m_per_m_ * length_m_));
}

double DeadLeg::temperature_degc(double station_m, double header_degc, double ambient_degc) const {
    return ambient_degc + (header_degc - ambient_degc) * decay(station_m);  // eq. 32
}

double DeadLeg::station_m(double metal_degc, double header_degc, double ambient_degc) const {
    const double wanted = (metal_degc - ambient_degc) / (header_degc - ambient_degc);
    if (!(wanted < 1.0)) return 0.0;
    const double at_end = (temperature_degc(length_m_, header_degc, ambient_degc) - ambient_degc) /
                          (header_degc - ambient_degc);
    if (!(wanted > at_end)) return length_m_;
    // wanted cosh(mL) = cosh(u); in logarithms, since cosh(mL) may overflow.
    const double log_cosh = std::log(wanted) + m_per_m_ * length_m_ +
                            std::log1p(std::exp(-2.0 * m_per_m_ * length_m_)) - std::log(2.0);
    constexpr double large = 300.0;
    const double u = log_cosh > large ? log_cosh + std::log(2.0) : std::acosh(std::exp(log_cosh));
    return std::clamp(length_m_ - u / m_per_m_, 0.0, length_m_);
}

}  // namespace lagline
