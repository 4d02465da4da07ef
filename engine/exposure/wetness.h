#pragma once

#include <bit>
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

/// Months of the year in which water condenses; bit 0 is January.
struct Sweating {
    std::uint16_t jacket = 0;  ///< on the jacket: it is colder than the dew point
    std::uint16_t steel = 0;   ///< on the steel, once vapour has reached it
    [[nodiscard]] double jacket_months() const { return std::popcount(jacket); }
    [[nodiscard]] double steel_months() const { return std::popcount(steel); }
};
/// Months in which water condenses on steel of this temperature, as in Sweating::steel.
[[nodiscard]] std::uint16_t steel_sweating(const ExposureRules& rules, double metal_degc);
/// Months of the year [0 to 12] in which water condenses on steel of this temperature, each month
/// counted by how far the steel lies below its dew point: nothing at the dew point, fully
/// `dew_point_band_k` below it, where vapour flows in freely.  Without a climate the year is one
/// month long twelve times over, at the air of the rules.
[[nodiscard]] double condensing_months(const ExposureRules& rules, double metal_degc);
/// @param metal_degc  temperature of the metal in operation
[[nodiscard]] Sweating sweating(const InsulatedPipe& pipe, const ExposureRules& rules,
                                double metal_degc);

}  // namespace lagline
