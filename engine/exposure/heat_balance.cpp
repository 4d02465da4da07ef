#include "exposure/heat_balance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace lagline {
namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4), CODATA
constexpr double zero_degc_in_k = 273.15;
constexpr double pi = std::numbers::pi;

// A pipe at the temperature of the air still has a coefficient; the limit of eq. 28 and 29.
constexpr double least_difference_k = 0.01;

double radiation(double emissivity, double surface_degc, double ambient_degc) {
    const double s = surface_degc + zero_degc_in_k;
    const double a = ambient_degc + zero_degc_in_k;
    return emissivity * stefan_boltzmann * (s * s + a * a) * (s + a);  // eq. 28
}

double natural_convection(const OuterSurface& surface, double difference_k) {
    const double d = std::max(std::abs(difference_k), least_difference_k);
    // eq. 29: laminar up to a size, turbulent beyond
    if (surface.vertical_m > 0.0) {
        const double h = surface.vertical_m;
        return h * h * h * d <= 10.0 ? 1.32 * std::sqrt(std::sqrt(d / h)) : 1.74 * std::cbrt(d);
    }
    const double diameter = surface.diameter_m;
    return diameter * diameter * diameter * d <= 10.0 ? 1.25 * std::sqrt(std::sqrt(d / diameter))
                                                      : 1.21 * std::cbrt(d);
}

double forced_convection(double diameter_m, double wind_m_per_s) {
    // eq. 30
    if (wind_m_per_s * diameter_m <= 8.55e-3) {
        return 8.1e-3 / diameter_m + 3.14 * std::sqrt(wind_m_per_s / diameter_m);
    }
    return 8.9 * std::pow(wind_m_per_s, 0.9) / std::pow(diameter_m, 0.1);
}

/// An insulated pipe whose jacket temperature is sought.
class JacketBalance {
  public:
    JacketBalance(double metal_degc, double ambient_degc, double pipe_radius_m,
                  const OuterSurface& jacket, const std::function<double(double)>& conductivity)
        : metal_degc_(metal_degc),
          ambient_degc_(ambient_degc),
          pipe_radius_m_(pipe_radius_m),
          jacket_(jacket),
          conductivity_(conductivity),
          forced_(forced_convection(jacket.diameter_m, jacket.wind_m_per_s)) {}

    /// The balance with conductivity and coefficient as they are for a jacket at `jacket_degc`.
    [[nodiscard]] HeatBalance with_jacket_at(double jacket_degc) const {
        const double outer =
            radiation(jacket_.emissivity, jacket_degc, ambient_degc_) +
            std::max(natural_convection(jacket_, jacket_degc - ambient_degc_), forced_);
        const double surface_resistance = 1.0 / (outer * pi * jacket_.diameter_m);
        HeatBalance balance;
        balance.transmittance_w_per_m_k = 1.0 / (insulation(jacket_degc) + surface_resistance);
        balance.heat_loss_w_per_m = balance.transmittance_w_per_m_k * (metal_degc_ - ambient_degc_);
        balance.jacket_degc = ambient_degc_ + balance.heat_loss_w_per_m * surface_resistance;
        return balance;
    }

    /// Eq. 29 jumps up where the flow turns turbulent; a jacket that is too cold for the one branch
    /// and too hot for the other stands at the jump and gives off what reaches it.
    [[nodiscard]] HeatBalance between(double hot_degc, double cold_degc, double width_k) const {
        if (hot_degc < cold_degc) std::swap(hot_degc, cold_degc);
        while (hot_degc - cold_degc > width_k) {
            const double middle = (hot_degc + cold_degc) / 2.0;
            (with_jacket_at(middle).jacket_degc > middle ? cold_degc : hot_degc) = middle;
        }
        HeatBalance balance;
        balance.jacket_degc = (hot_degc + cold_degc) / 2.0;
        balance.heat_loss_w_per_m =
            (metal_degc_ - balance.jacket_degc) / insulation(balance.jacket_degc);
        balance.transmittance_w_per_m_k = balance.heat_loss_w_per_m / (metal_degc_ - ambient_degc_);
        return balance;
    }

  private:
    [[nodiscard]] double insulation(double jacket_degc) const {
        const std::array layer{PipeLayer{pipe_radius_m_, jacket_.diameter_m / 2.0,
                                         conductivity_((metal_degc_ + jacket_degc) / 2.0)}};
        return layer_resistance_m_k_per_w(layer);
    }

    double metal_degc_;
    double ambient_degc_;
    double pipe_radius_m_;
    const OuterSurface& jacket_;
    const std::function<double(double)>& conductivity_;
    double forced_;
};

}  // namespace

double layer_resistance_m_k_per_w(std::span<const PipeLayer> layers) {
    double resistance = 0.0;
    for (const PipeLayer& layer : layers) {
        resistance += std::log(layer.outer_radius_m / layer.inner_radius_m) /
                      (2.0 * pi * layer.conductivity_w_per_m_k);  // eq. 26
    }
    return resistance;
}

double heat_loss_w_per_m(double inside_degc, double ambient_degc, std::span<const PipeLayer> layers,
                         double inner_w_per_m2_k, double outer_w_per_m2_k) {
    const double inner = 1.0 / (inner_w_per_m2_k * 2.0 * pi * layers.front().inner_radius_m);
    const double outer = 1.0 / (outer_w_per_m2_k * 2.0 * pi * layers.back().outer_radius_m);
    return (inside_degc - ambient_degc) /
           (inner + layer_resistance_m_k_per_w(layers) + outer);  // eq. 27
}

double surface_coefficient_w_per_m2_k(const OuterSurface& surface, double surface_degc,
                                      double ambient_degc) {
    return radiation(surface.emissivity, surface_degc, ambient_degc) +
           std::max(natural_convection(surface, surface_degc - ambient_degc),
                    forced_convection(surface.diameter_m, surface.wind_m_per_s));
}

HeatBalance balance_heat(double metal_degc, double ambient_degc, double pipe_radius_m,
                         const OuterSurface& jacket,
                         const std::function<double(double)>& conductivity) {
    constexpr int most_steps = 30;
    constexpr double close_enough_k = 1e-9;
    const JacketBalance pipe{metal_degc, ambient_degc, pipe_radius_m, jacket, conductivity};
    double jacket_degc = ambient_degc + 0.1 * (metal_degc - ambient_degc);
    for (int step = 0; step < most_steps; ++step) {
        const HeatBalance found = pipe.with_jacket_at(jacket_degc);
        if (std::abs(found.jacket_degc - jacket_degc) < close_enough_k) return found;
        jacket_degc = found.jacket_degc;
    }
    return pipe.between(metal_degc, ambient_degc, close_enough_k);
}

double bare_heat_loss_w_per_m(double metal_degc, double ambient_degc, const OuterSurface& pipe) {
    return surface_coefficient_w_per_m2_k(pipe, metal_degc, ambient_degc) * pi * pipe.diameter_m *
           (metal_degc - ambient_degc);
}

}  // namespace lagline
