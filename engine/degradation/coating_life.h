#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "degradation/history.h"
#include "degradation/weibull.h"
#include "exposure/exposure.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The rule tables of the coating life model.
struct CoatingLifeRules {
    const GridTable* scale = nullptr;  ///< coating_system x driver
    const LookupTable* shape = nullptr;
    const LookupTable* quality_scale = nullptr;  ///< where the system is not known
    double quality_shape = 1.0;
    std::optional<std::uint8_t> unknown_system;  ///< word `unknown` of coating_system
    const LookupTable* rigidity = nullptr;
    const LookupTable* temperature_most = nullptr;
    const LookupTable* temperature_least = nullptr;
    const BandTable* over_temperature = nullptr;
    double cold_factor = 1.0;
    const LookupTable* film_least = nullptr;
    const BandTable* thin_film = nullptr;
    const LookupTable* thick_film_limit = nullptr;
    const CurveTable* cracking = nullptr;
    const LookupTable* yard_erosion = nullptr;
    const LookupTable* preparation = nullptr;
    const LookupTable* field = nullptr;
    double field_after_years = 0.0;
    const LookupTable* cure_least = nullptr;
    double cold_cure_factor = 1.0;
    double dew_margin_k = 0.0;
    double dew_factor = 1.0;
    const BandTable* cycling = nullptr;
    const LookupTable* wet = nullptr;  ///< by yes_no
    double sound_rust_grade = 0.0;
    std::vector<double> month_degc;  ///< empty where the plant gives no climate
    std::vector<double> month_dew_degc;
};
[[nodiscard]] CoatingLifeRules coating_life_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> coating_life_needs();

/// The life of one coating and the factors on its scale, each 1 where it does not apply.
struct CoatingLife {
    Weibull life;
    double base_scale_years = 0.0;
    double preparation = 1.0;
    double place = 1.0;        ///< shop or field
    double application = 1.0;  ///< applied too cold, or too near the dew point
    double film_um = -1.0;     ///< left after the yard; negative where the film is not known
    double thin_film = 1.0;
    double cracking = 1.0;     ///< thick film of a rigid system that is hot
    double temperature = 1.0;  ///< above the limit of the system, or below its least
    double cycling = 1.0;
    double wet = 1.0;  ///< insulation last found wet
};
/// A coating as its life depends on it.
struct CoatingCase {
    std::uint8_t system = 0;   ///< vocabulary coating_system
    std::uint8_t quality = 0;  ///< vocabulary coating_quality; counts where the system is not known
    std::uint8_t preparation = 0;  ///< vocabulary surface_preparation
    bool field = false;            ///< applied at the plant, else in the shop
    /// Month of application, from 0; nothing where it is not known, or in weather that suits it.
    std::optional<std::size_t> month;
    double film_um = -1.0;          ///< as it goes into service; negative where it is not known
    double cycles_per_year = -1.0;  ///< negative where they are not known
    bool wet = false;               ///< the insulation over it is wet
};
/// The coating that a segment has, as its cells and the findings up to `at` say.
[[nodiscard]] CoatingCase coating_case(const Plant& plant, const CoatingLifeRules& rules,
                                       std::uint32_t segment, Date at);

/// Life of a coating at a service (eq. 33).
/// @param driver        vocabulary driver
/// @param highest_degc  highest metal temperature of the service cycle
[[nodiscard]] CoatingLife coating_life(const CoatingLifeRules& rules, const CoatingCase& coating,
                                       std::uint8_t driver, double highest_degc,
                                       double lowest_degc);

/// Life of the coating that a segment has.
/// @param highest_degc  highest metal temperature of the service cycle
/// @param at            inspections up to this day tell whether the insulation is wet
[[nodiscard]] CoatingLife coating_life(const Plant& plant, const CoatingLifeRules& rules,
                                       std::uint32_t segment, std::uint8_t driver,
                                       double highest_degc, double lowest_degc, Date at);

/// Lives of the coats of a segment.
struct CoatLives {
    Weibull present;  ///< of that of `coating_date`, and of parts renewed since
    Weibull earlier;  ///< of that before it, and of parts renewed before it
};

/// Expected unprotected time of a segment between two days, over its coats and what inspections
/// found of them, parts that were renewed later counted by their share (eq. 36 and 37).  Where the
/// coat of `coating_date` leaves more of it than the one before would have, the latter stands.
[[nodiscard]] double expected_unprotected(const Plant& plant, const CoatingLifeRules& rules,
                                          const CoatLives& lives, const HistoryRules& history,
                                          std::uint32_t segment, Date from, Date to);

}  // namespace lagline
