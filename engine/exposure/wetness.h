#pragma once

#include <cstdint>

#include "exposure/exposure_rules.h"
#include "exposure/heat_balance.h"
#include "plant/plant.h"

namespace lagline {

/// An insulated pipe as the heat balance takes it.
struct InsulatedPipe {
    double pipe_radius_m = 0.0;
    OuterSurface jacket;
    std::uint8_t insulation_type = 0;
    double wet_factor = 1.0;  ///< conductivity of the wet over that of the dry insulation (eq. 31)
};
/// @param at  inspections up to this day tell whether the insulation is wet
[[nodiscard]] InsulatedPipe insulated_pipe(const Plant& plant, const ExposureRules& rules,
                                           std::uint32_t segment, Date at);

/// Heat balance of the pipe with the conductivity of its insulation.
[[nodiscard]] HeatBalance balance_heat(const InsulatedPipe& pipe, const ExposureRules& rules,
                                       double metal_degc, double ambient_degc);

/// Months of the year in which water condenses.
struct Sweating {
    double jacket_months = 0.0;  ///< on the jacket: it is colder than the dew point
    double steel_months = 0.0;   ///< on the steel, once vapour has reached it
};
/// @param metal_degc  temperature of the metal in operation
[[nodiscard]] Sweating sweating(const InsulatedPipe& pipe, const ExposureRules& rules,
                                double metal_degc);

}  // namespace lagline
