#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "degradation/degradation.h"
#include "likelihood/crack_factor.h"
#include "likelihood/damage_factor.h"
#include "likelihood/updating.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// How likely the segment fails.  Wall fraction to below_minimum: one row per row of wall loss;
/// counted_inspections to known_cracks_factor: one per row of cracking; the rest: one per ranked
/// row.
struct LikelihoodColumns {
    Numbers wall_fraction;
    Numbers flow_stress_mpa;
    Numbers pressure_minimum_mm;
    Numbers structural_minimum_mm;
    Numbers minimum_thickness_mm;
    Numbers remaining_life_years;
    Codes remaining_life_known;  ///< 1 where there is one
    Numbers strength_ratio_a;
    Numbers strength_ratio_b;
    Numbers strength_ratio;
    std::array<Numbers, telling_categories> inspections;
    std::array<Numbers, damage_states> state_probability;
    std::array<Numbers, damage_states> reliability_index;
    Numbers expected_wall_mm;
    Numbers below_minimum;  ///< probability
    Codes at_minimum;       ///< 1 where a reading that nothing cleared is at or below the minimum
    Numbers damage_factor;
    // Where the rules know segments of two mechanisms:
    Numbers other_damage_factor;     ///< of the segment's other mechanism, 0 without one
    Numbers combined_damage_factor;  ///< of both
    Numbers generic_frequency_per_year;
    Numbers management_factor;
    Numbers probability_of_failure_per_year;

    // Cracking:
    Codes counted_inspections;  ///< that gave most credit; vocabulary `scc_inspections`
    Numbers base_damage_factor;
    Numbers known_cracks_factor;

    void resize(const MechanismRows& rows, bool two_mechanisms);
    [[nodiscard]] std::vector<ColumnView> views(bool two_mechanisms) const;
};

struct LikelihoodRules {
    double flow_stress_factor = 0.0;
    double pressure_coefficient_y = 0.0;
    double strength_ratio_shape = 0.0;
    std::vector<RuleHit> structural_minimum_mm;  ///< by nominal size
    const GridTable* prior = nullptr;
    const GridTable* conditional = nullptr;
    std::array<double, damage_states> state_factor{};
    Scatter scatter;
    double damage_factor_base = 0.0;
    double failure_at_minimum = 0.0;  ///< least probability in each state for a reading at minimum
    bool factors_add_up = true;       ///< of two mechanisms on one segment, else the larger counts
    std::vector<double> generic_frequency_per_year;  ///< by nominal size, of all holes together
    double management_factor = 0.0;
    double probability_cap = 0.0;
    const GridTable* base_damage = nullptr;  ///< severity x inspections
    CrackGrowth crack_growth;
};
/// @param plant  its management score sets the management factor (eq. 19)
[[nodiscard]] LikelihoodRules likelihood_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> likelihood_needs();

/// Damage factor of rows of wall loss (eq. 8 to 18).
void fill_wall_likelihood(const BlockOfRows& block, const LikelihoodRules& rules,
                          const WallLossColumns& wall, const CoatingColumns& coating,
                          LikelihoodColumns& out, std::span<std::uint8_t> outside);

/// Damage factor of rows of cracking (eq. 40 and 41), which start at ranked row `first`.
void fill_cracking_likelihood(const BlockOfRows& block, const LikelihoodRules& rules,
                              const CrackingColumns& cracking, const CoatingColumns& coating,
                              std::size_t first, LikelihoodColumns& out);

/// Damage factor of each segment of two mechanisms from those of both (eq. 59).
/// @param partner  row of the segment's other mechanism, of every ranked row; negative without one
void fill_combination(RowRange rows, const LikelihoodRules& rules,
                      std::span<const std::int32_t> partner, LikelihoodColumns& out);

/// Probability of failure of every row from its damage factor (eq. 19 and 20).
void fill_probability(const BlockOfRows& block, const LikelihoodRules& rules,
                      LikelihoodColumns& out);

}  // namespace lagline
