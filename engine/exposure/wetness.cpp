#include "exposure/wetness.h"

#include <cmath>

#include "exposure/driver_level.h"
#include "exposure/findings.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double mm_per_m = 1e3;
// Beyond a metre or so natural convection is turbulent and no longer depends on the height.
constexpr double usual_run_m = 3.0;

}  // namespace

InsulatedPipe insulated_pipe(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
                             Date at) {
    const SegmentSheet& segments = plant.segments;
    InsulatedPipe pipe;
    pipe.pipe_radius_m = segments.numbers(S::outside_diameter)[segment] / (2.0 * mm_per_m);
    pipe.jacket.diameter_m =
        2.0 * (pipe.pipe_radius_m + segments.numbers(S::insulation_thickness)[segment] / mm_per_m);
    pipe.jacket.emissivity = rules.emissivity->value(segments.codes(S::jacket)[segment]);
    pipe.jacket.wind_m_per_s = rules.air.wind_m_per_s;
    if (segments.has(S::orientation, segment) &&
        segments.codes(S::orientation)[segment] == rules.vertical) {
        pipe.jacket.vertical_m =
            segments.has(S::length, segment) ? segments.numbers(S::length)[segment] : usual_run_m;
    }
    pipe.insulation_type = segments.codes(S::insulation_type)[segment];
    const std::uint8_t wet = found_wet(plant, segment, at) ? 1 : 0;
    pipe.wet_factor = std::exp(rules.wet_exponent * rules.wet_fraction->value(wet));  // eq. 31
    return pipe;
}

HeatBalance balance_heat(const InsulatedPipe& pipe, const ExposureRules& rules, double metal_degc,
                         double ambient_degc) {
    return balance_heat(metal_degc, ambient_degc, pipe.pipe_radius_m, pipe.jacket,
                        [&](double mean_degc) {
                            return pipe.wet_factor *
                                   rules.conductivity->find(pipe.insulation_type, mean_degc).value;
                        });
}

std::uint16_t steel_sweating(const ExposureRules& rules, double metal_degc) {
    std::uint16_t months = 0;
    const auto& dew_point_degc = rules.air.dew_point_degc;
    for (std::size_t month = 0; month < dew_point_degc.size(); ++month) {
        if (metal_degc < dew_point_degc[month]) months |= static_cast<std::uint16_t>(1U << month);
    }
    return months;
}

double condensing_months(const ExposureRules& rules, double metal_degc) {
    constexpr double months_per_year = 12.0;
    const auto share = [&](double dew_degc) {
        return 1.0 - place_in_band(metal_degc, dew_degc - rules.dew_point_band_k, dew_degc);
    };
    const auto& dew_point_degc = rules.air.dew_point_degc;
    if (dew_point_degc.empty()) return months_per_year * share(rules.air.mean_dew_point_degc);
    double months = 0.0;
    for (const double dew_degc : dew_point_degc) months += share(dew_degc);
    return months;
}

Sweating sweating(const InsulatedPipe& pipe, const ExposureRules& rules, double metal_degc) {
    Sweating months{.steel = steel_sweating(rules, metal_degc)};
    const SiteAir& air = rules.air;
    for (std::size_t month = 0; month < air.dew_point_degc.size(); ++month) {
        // A pipe at or above the dew point cannot have a jacket below it.
        const auto bit = static_cast<std::uint16_t>(1U << month);
        if ((months.steel & bit) == 0) continue;
        const HeatBalance balance = balance_heat(pipe, rules, metal_degc, air.mean_degc[month]);
        if (balance.jacket_degc < air.dew_point_degc[month]) months.jacket |= bit;
    }
    return months;
}

}  // namespace lagline
