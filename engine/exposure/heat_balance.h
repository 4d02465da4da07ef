#pragma once

#include <functional>
#include <span>

#include "blocks/column.h"
#include "ruleset/table.h"

namespace lagline {

/// A layer of a pipe: from one radius to the next.
struct PipeLayer {
    double inner_radius_m = 0.0;
    double outer_radius_m = 0.0;
    double conductivity_w_per_m_k = 0.0;
};

/// Resistance of the layers of a pipe to heat flowing outward, per metre [m K/W] (eq. 26).
/// @source ISO 12241, ASTM C680: cylindrical layers in series, ln(r_o/r_i) / (2 pi k)
[[nodiscard]] double layer_resistance_m_k_per_w(std::span<const PipeLayer> layers);

/// Heat lost per metre of pipe [W/m] (eq. 27): temperature difference over the resistances of the
/// inner surface, the layers and the outer surface.
/// @param inner_w_per_m2_k  coefficient of the inner surface; infinite for a known wall temperature
/// @param outer_w_per_m2_k  coefficient of the outer surface
[[nodiscard]] double heat_loss_w_per_m(double inside_degc, double ambient_degc,
                                       std::span<const PipeLayer> layers, double inner_w_per_m2_k,
                                       double outer_w_per_m2_k);

/// The outside of a pipe in the open.
struct OuterSurface {
    double diameter_m = 0.0;
    double emissivity = 0.0;
    double wind_m_per_s = 0.0;
    double vertical_m = 0.0;  ///< height of a vertical run; 0 for a horizontal one
};

/// Coefficient of the outer surface [W/(m2 K)] (eq. 28 to 30): radiation plus the larger of natural
/// and forced convection.
/// @source radiation: Stefan-Boltzmann; convection of horizontal and vertical pipes: ISO 12241
///   (recalled)
[[nodiscard]] double surface_coefficient_w_per_m2_k(const OuterSurface& surface,
                                                    double surface_degc, double ambient_degc);

/// What the heat balance of an insulated pipe gives.
struct HeatBalance {
    double heat_loss_w_per_m = 0.0;        ///< positive outward
    double jacket_degc = 0.0;              ///< temperature of the jacket
    double transmittance_w_per_m_k = 0.0;  ///< linear, metal to air
};

/// Balances the heat of a pipe at `metal_degc` under one layer of insulation: the coefficient of
/// the jacket and the conductivity at the mean temperature of the layer are iterated until the
/// jacket moves by less than 1e-9 K.  Where the coefficient of the source jumps past every balance
/// (natural convection turning turbulent), the jacket stands at the jump.
/// @param conductivity  [W/(m K)] of the insulation by its mean temperature [degC]
[[nodiscard]] HeatBalance balance_heat(double metal_degc, double ambient_degc, double pipe_radius_m,
                                       const OuterSurface& jacket,
                                       const std::function<double(double)>& conductivity);

/// Heat lost by the same pipe without insulation [W/m].
[[nodiscard]] double bare_heat_loss_w_per_m(double metal_degc, double ambient_degc,
                                            const OuterSurface& pipe);

}  // namespace lagline
