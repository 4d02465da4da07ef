#include "exposure/dead_leg.h"

#include <algorithm>
#include <cmath>

namespace lagline {

DeadLeg::DeadLeg(double length_m, double transmittance_w_per_m_k, double conductivity_w_per_m_k,
                 double metal_area_m2)
    : length_m_(length_m),
      m_per_m_(std::sqrt(transmittance_w_per_m_k / (conductivity_w_per_m_k * metal_area_m2))) {}

double DeadLeg::temperature_degc(double station_m, double header_degc, double ambient_degc) const {
    // cosh(m(L-x)) / cosh(mL) with the growing exponential taken out: both would overflow for a leg
    // of some hundred times its decay length.
    const double decay = std::exp(-m_per_m_ * station_m) *
                         (1.0 + std::exp(-2.0 * m_per_m_ * (length_m_ - station_m))) /
                         (1.0 + std::exp(-2.0 * m_per_m_ * length_m_));
    return ambient_degc + (header_degc - ambient_degc) * decay;  // eq. 32
}

double DeadLeg::station_m(double metal_degc, double header_degc, double ambient_degc) const {
    const double decay = (metal_degc - ambient_degc) / (header_degc - ambient_degc);
    if (!(decay < 1.0)) return 0.0;
    const double at_end = (temperature_degc(length_m_, header_degc, ambient_degc) - ambient_degc) /
                          (header_degc - ambient_degc);
    if (!(decay > at_end)) return length_m_;
    // decay cosh(mL) = cosh(u); in logarithms, since cosh(mL) may overflow.
    const double log_cosh = std::log(decay) + m_per_m_ * length_m_ +
                            std::log1p(std::exp(-2.0 * m_per_m_ * length_m_)) - std::log(2.0);
    constexpr double large = 300.0;
    const double u = log_cosh > large ? log_cosh + std::log(2.0) : std::acosh(std::exp(log_cosh));
    return std::clamp(length_m_ - u / m_per_m_, 0.0, length_m_);
}

}  // namespace lagline
