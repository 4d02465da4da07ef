#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "degradation/coating_life.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Coats of one system at most; words first, second, third of `coat`.
inline constexpr std::size_t most_coats = 3;

/// How the material of a system is bought and measured; words of `coating_form`, in this order.
enum class CoatingForm : std::uint8_t {
    paint,        ///< litres of wet paint
    metal_spray,  ///< litres of solid metal
    wrap,         ///< square metres of tape or foil
};

/// The practical sequence of maintenance painting: what is done at which multiple of the practical
/// life, and what it costs as a share of the first job.  The last step starts the next round.
struct MaintenanceSequence {
    struct Step {
        double at_lives = 0.0;
        double cost_share = 0.0;
    };
    std::array<Step, 3> steps{};  ///< touch-up, maintenance repaint, full repaint
};

/// How later money is weighed.
struct LifeCycleTerms {
    double horizon_years = 0.0;
    double discount_per_year = 0.0;  ///< 0.07: money in a year counts 1/1.07 of money today
};

/// The rule tables of the recoat specification, taken out of the rule set once.  Money is in US
/// dollar as the tables have it; `plant_per_usd` turns it into the plant's.
struct RecoatRules {
    // Of the systems, by coating_system:
    const LookupTable* specifiable = nullptr;        ///< yes_no
    const GridTable* substrate = nullptr;            ///< by material_family; yes_no
    const LookupTable* cyclic = nullptr;             ///< yes_no
    const LookupTable* temperature_most = nullptr;   ///< of the metal in service [degC]
    const LookupTable* temperature_least = nullptr;  ///< the same
    const LookupTable* holds_zinc = nullptr;         ///< yes_no
    const LookupTable* dry_heat_only = nullptr;      ///< yes_no
    const LookupTable* preparation_least = nullptr;  ///< surface_preparation
    const LookupTable* cure_least = nullptr;         ///< steel while it cures [degC]
    const LookupTable* application_most = nullptr;   ///< steel while it is applied [degC]
    const LookupTable* form = nullptr;               ///< coating_form
    const LookupTable* volume_solids = nullptr;      ///< share of the wet material
    const LookupTable* loss = nullptr;               ///< share of the material bought
    const LookupTable* material_cost = nullptr;      ///< a litre, or a m2 of a wrap
    const LookupTable* application_cost = nullptr;   ///< a m2 and coat
    const LookupTable* application_hours = nullptr;  ///< a m2 and coat [h]
    const GridTable* film_least = nullptr;           ///< by coat [mm]; 0: no such coat
    const GridTable* film_most = nullptr;            ///< by coat [mm]
    const GridTable* quality = nullptr;              ///< by surface_preparation; coating_quality
    const LookupTable* rigidity = nullptr;           ///< coating_rigidity
    const LookupTable* thick_film_limit = nullptr;   ///< by coating_rigidity [mm]
    // Of the preparations, by surface_preparation:
    const LookupTable* cleanliness = nullptr;         ///< rank, the higher the cleaner
    const LookupTable* preparation_cost = nullptr;    ///< a m2
    const LookupTable* preparation_hours = nullptr;   ///< a m2 [h]
    const GridTable* preparation_possible = nullptr;  ///< by window_kind; yes_no
    const LookupTable* material_family = nullptr;     ///< by material
    double dry_heat_from_degc = 0.0;
    double zinc_wet_from_degc = 0.0;
    double zinc_wet_to_degc = 0.0;
    double hot_film_from_degc = 0.0;
    double dew_margin_k = 0.0;
    MaintenanceSequence sequence;
    LifeCycleTerms terms;
    double plant_per_usd = 1.0;
    /// Site's rate of recoating over that of the rules for the same work; 1 without a site's rate.
    double price_level = 1.0;
    // The coating model of the ranking: one of the two.
    std::optional<CoatingLifeRules> life;
    const LookupTable* credit = nullptr;  ///< years of credit by coating_quality
    std::vector<double> mean_over_scale;  ///< of the time to breakdown, by coating_system
    // Monthly means, January first; empty where the plant gives no climate.
    std::vector<double> month_degc;
    std::vector<double> month_dew_degc;
    // Words of `service` that are not held at the operating temperature.
    std::uint8_t cyclic_service = 0;
    std::uint8_t idle_service = 0;
};
/// @throws std::out_of_range  when `rules` lack a table: see planning_needs()
[[nodiscard]] RecoatRules recoat_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> recoat_needs();

}  // namespace lagline
