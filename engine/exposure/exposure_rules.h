#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "exposure/service_cycle.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The air around the plant, in equal parts of the year: twelve months, or one mean where the plant
/// gives no climate.
struct SiteAir {
    std::vector<double> mean_degc;
    std::vector<double> dew_point_degc;  ///< empty where the plant gives no climate
    double mean_dew_point_degc = 0.0;    ///< by the humidity of the rules without a climate
    double annual_degc = 0.0;
    double wind_m_per_s = 0.0;
};

/// Drivers that follow from the site, each by its own table; nothing where the site gives no data.
struct SiteDrivers {
    std::optional<std::uint8_t> rainfall;
    std::optional<std::uint8_t> coast;
    std::uint8_t drift = 0;   ///< of units downwind of a cooling tower
    std::uint8_t deluge = 0;  ///< of units whose deluge is tested often
    std::uint8_t none = 0;    ///< mildest of the vocabulary
};

/// The rule tables of this step, taken out of the rule set once.
struct ExposureRules {
    bool service_cycle = false;
    bool derived_driver = false;
    /// Leaves the columns of the heat balance empty that no rate depends on: for the many samples
    /// of a segment of which only the risk is asked.
    bool for_rates_only = false;
    const CurveTable* base_rate = nullptr;
    const LookupTable* condition_of_damage = nullptr;  ///< nothing: findings change no condition
    // The rest is set with service_cycle only.
    std::vector<ServiceKind> service_kinds;  ///< by code of `service`
    double heating_ramp_share = 0.0;         ///< time to heat over time to cool
    double dew_point_band_k = 0.0;           ///< from the dew point down to full condensation
    double crossing_band_k = 0.0;            ///< on either side of the dew point, for a full cycle
    double severe_from_per_year = 0.0;       ///< cycles through the dew point that keep steel wet
    double susceptible_from_degc = 0.0;
    double susceptible_to_degc = 0.0;
    const CurveTable* conductivity = nullptr;
    const LookupTable* emissivity = nullptr;
    const LookupTable* wet_fraction = nullptr;
    double wet_exponent = 0.0;
    const LookupTable* steel_conductivity = nullptr;
    double touch_limit_degc = 0.0;
    std::uint8_t vertical = 0;                         ///< word `vertical` of `orientation`
    const CurveTable* driver_by_condensing = nullptr;  ///< level of the driver
    const LookupTable* driver_of_tracing = nullptr;
    SiteAir air;
    SiteDrivers drivers;
};

/// Which models a rule set chooses; they decide which columns there are.
struct MethodModels {
    bool service_cycle = false;    ///< temperature_model: service_cycle, else single
    bool derived_driver = false;   ///< driver_model: derived, else as given
    bool life_model = false;       ///< coating_model: life_model, else banded credit
    bool two_mechanisms = false;   ///< some steel that can crack also loses wall
    bool measured_rate = false;    ///< rate_model: measured, else that of the tables
    bool jacket_findings = false;  ///< the rules have condition_of_jacket_damage
    bool money = false;            ///< consequence_model: money, else category
};
[[nodiscard]] MethodModels models_of(const RuleSet& rules);

[[nodiscard]] ExposureRules exposure_rules(const RuleSet& rules, const Plant& plant);
/// Tables this step needs under these models.
[[nodiscard]] std::vector<TableNeed> exposure_needs(const MethodModels& models);

/// A table that a rule set may have: with it the condition of the insulation heeds what was found
/// of the jacket.
[[nodiscard]] const TableNeed& jacket_damage_need();

/// Models that a rule set chooses although they rest on one that it does not: the coating life and
/// the derived driver come out of the service cycle.
[[nodiscard]] Report check_models(const RuleSet& rules);

/// The worse of two drivers: vocabularies list the severest first.
[[nodiscard]] constexpr std::uint8_t worse_driver(std::uint8_t a, std::uint8_t b) {
    return a < b ? a : b;
}

}  // namespace lagline
