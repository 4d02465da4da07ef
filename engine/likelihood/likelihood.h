#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "degradation/degradation.h"
#include "likelihood/damage_factor.h"
#include "likelihood/updating.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// How likely the segment fails.  One row per ranked row.
struct LikelihoodColumns {
    Numbers wall_fraction;
    Numbers flow_stress_mpa;
    Numbers pressure_minimum_mm;
    Numbers structural_minimum_mm;
    Numbers minimum_thickness_mm;
    Numbers strength_ratio_a;
    Numbers strength_ratio_b;
    Numbers strength_ratio;
    std::array<Numbers, telling_categories> inspections;
    std::array<Numbers, damage_states> state_probability;
    std::array<Numbers, damage_states> reliability_index;
    Numbers damage_factor;
    Numbers generic_frequency_per_year;
    Numbers management_factor;
    Numbers probability_of_failure_per_year;

    void resize(Eigen::Index rows);
    [[nodiscard]] std::vector<ColumnView> views() const;
};

struct LikelihoodRules {
    double flow_stress_factor = 0.0;
    double pressure_coefficient_y = 0.0;
    double strength_ratio_shape = 0.0;
    const BandTable* structural_minimum = nullptr;
    const GridTable* prior = nullptr;
    const GridTable* conditional = nullptr;
    std::array<double, damage_states> state_factor{};
    Scatter scatter;
    double damage_factor_base = 0.0;
    const BandTable* generic_frequency = nullptr;
    std::uint8_t hole_sizes = 0;
    double management_factor = 0.0;
    double probability_cap = 0.0;
};
/// @param plant  its management score sets the management factor (eq. 19)
[[nodiscard]] LikelihoodRules likelihood_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> likelihood_needs();

/// Fills rows [range) of `out` at date `at` (eq. 8 to 20).
void fill_likelihood(const Plant& plant, const LikelihoodRules& rules, Date at,
                     std::span<const std::uint8_t> effectiveness,
                     std::span<const std::uint32_t> rows, const DegradationColumns& degradation,
                     RowRange range, LikelihoodColumns& out, std::span<std::uint8_t> outside);

}  // namespace lagline
