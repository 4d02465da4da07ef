#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "exposure/exposure_rules.h"
#include "exposure/service_cycle.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What the steel sees.  One row per ranked row.  Columns that the rules' models do not fill stay
/// empty and are not among views().
struct ExposureColumns {
    Numbers metal_temperature_degc;  ///< the level that matters most; eq. 1
    Codes driver;                    ///< vocabulary `driver`
    Codes insulation_condition;      ///< with findings of the jacket, where the rules heed them
    // With the service cycle:
    Numbers susceptible_share;  ///< of the year
    Numbers highest_degc;
    Numbers lowest_degc;
    Numbers dead_leg_station_m;  ///< from the header; 0 without a dead leg
    Numbers dead_leg_decay;      ///< share of the header's excess over the air left there; eq. 32
    Numbers heat_loss_w_per_m;
    Numbers bare_heat_loss_w_per_m;
    Numbers jacket_temperature_degc;
    Numbers transmittance_w_per_m_k;
    Numbers jacket_sweating_months;
    Numbers steel_sweating_months;
    Numbers dew_point_crossing;  ///< how fully the cycle passes the dew point, 0 to 1
    Numbers ramp_h;              ///< time of one ramp from hot to cold; 0 without a cycle
    Codes insulation_need;       ///< vocabulary `insulation_need`
    // With a derived driver:
    Codes rainfall_driver;
    Codes coast_driver;
    Codes site_driver;     ///< drift and deluge of the unit
    Codes weather_driver;  ///< as entered, else by rain, coast and site
    Numbers condensing_months;
    Codes sweating_driver;
    Codes cycling_driver;
    Codes tracing_driver;
    Numbers driver_level;  ///< 0 for severe; `driver` is the word nearest to it

    void resize(Eigen::Index rows, const MethodModels& models);
    /// The filled columns with their descriptions, in the order of the method.
    [[nodiscard]] std::vector<ColumnView> views(const MethodModels& models) const;
};

/// Condition of the insulation of ranked row `row`: with findings of the jacket where the rules
/// heed them, else as recorded.
[[nodiscard]] std::uint8_t insulation_condition(const Plant& plant, const ExposureColumns& exposure,
                                                std::size_t row, std::uint32_t segment);

/// The service levels of a segment as the step takes them: for a dead leg those at the station
/// where the mean rate is greatest.
struct SegmentLevels {
    ServiceLevels levels;
    double station_m = 0.0;
    double decay = 1.0;  ///< share of the header's excess over the air that is left there
    // Of the levels and of the ends of the cycle there, which a short cycle only touches:
    double highest_degc = 0.0;
    double lowest_degc = 0.0;
};
/// @param driver_level  ExposureColumns::driver_level, or the code of a driver
[[nodiscard]] SegmentLevels segment_levels(const Plant& plant, const ExposureRules& rules,
                                           std::uint32_t segment, double driver_level,
                                           double transmittance_w_per_m_k);

/// The levels of its service cycle before a dead leg cools them.
[[nodiscard]] ServiceLevels header_levels(const Plant& plant, const ExposureRules& rules,
                                          std::uint32_t segment, double transmittance_w_per_m_k);

/// Fills rows [range) of `out` and gives the levels of each of these rows.
/// @param rows  segment row of each ranked row; one entry per row of `out`
void fill_exposure(const Plant& plant, const ExposureRules& rules, Date at,
                   std::span<const std::uint32_t> rows, RowRange range, ExposureColumns& out,
                   std::vector<ServiceLevels>& levels);

}  // namespace lagline
