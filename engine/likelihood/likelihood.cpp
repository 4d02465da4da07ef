#include "likelihood/likelihood.h"

#include <algorithm>
#include <cmath>

#include "likelihood/crack_factor.h"
#include "likelihood/normal.h"
#include "likelihood/remaining_life.h"
#include "likelihood/strength.h"
#include "likelihood/wall_left.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::array needs{
    TableNeed{.name = "flow_stress_factor", .kind = TableKind::value},
    TableNeed{.name = "pressure_coefficient_y", .kind = TableKind::value},
    TableNeed{.name = "strength_ratio_shape", .kind = TableKind::value},
    TableNeed{.name = "structural_minimum",
              .kind = TableKind::bands,
              .dimension = Dimension::length,
              .axis = "nominal_size"},
    TableNeed{.name = "allowable_stress",
              .kind = TableKind::lookup,
              .dimension = Dimension::stress,
              .by = "material"},
    TableNeed{.name = "yield_strength",
              .kind = TableKind::lookup,
              .dimension = Dimension::stress,
              .by = "material"},
    TableNeed{.name = "tensile_strength",
              .kind = TableKind::lookup,
              .dimension = Dimension::stress,
              .by = "material"},
    TableNeed{.name = "prior_probability",
              .kind = TableKind::grid,
              .by = "data_confidence",
              .columns = "damage_state"},
    TableNeed{.name = "conditional_probability",
              .kind = TableKind::grid,
              .by = "effectiveness",
              .columns = "damage_state"},
    TableNeed{.name = "damage_state_factor", .kind = TableKind::lookup, .by = "damage_state"},
    TableNeed{.name = "cov_thinning", .kind = TableKind::value},
    TableNeed{.name = "cov_flow_stress", .kind = TableKind::value},
    TableNeed{.name = "cov_pressure", .kind = TableKind::value},
    TableNeed{.name = "damage_factor_base", .kind = TableKind::value},
    TableNeed{.name = "failure_at_minimum", .kind = TableKind::value},
    TableNeed{.name = "mechanism_combination",
              .kind = TableKind::value,
              .gives = "mechanism_combination"},
    TableNeed{.name = "generic_frequency",
              .kind = TableKind::bands,
              .dimension = Dimension::frequency,
              .columns = "hole_size",
              .axis = "nominal_size"},
    TableNeed{.name = "management_slope", .kind = TableKind::value},
    TableNeed{.name = "management_offset", .kind = TableKind::value},
    TableNeed{.name = "management_score", .kind = TableKind::value},
    TableNeed{.name = "scc_base_damage_factor",
              .kind = TableKind::grid,
              .by = "severity_index",
              .columns = "scc_inspections"},
    TableNeed{.name = "scc_age_exponent", .kind = TableKind::value},
    TableNeed{.name = "scc_damage_cap", .kind = TableKind::value},
    TableNeed{.name = "scc_damage_floor", .kind = TableKind::value},
    TableNeed{.name = "known_cracks_factor", .kind = TableKind::value},
    TableNeed{
        .name = "probability_cap", .kind = TableKind::value, .dimension = Dimension::frequency},
};

// eq. 19; the score is in per cent of the points.
double management_factor(const RuleSet& rules, const Plant& plant) {
    const Unit percent = parse_unit("%", Dimension::number).value();
    const double score = plant.description.management_score_percent.value_or(
        convert(rules.value("management_score").value(), base_unit(Dimension::number), percent));
    return std::pow(10.0, rules.value("management_slope").value() * score +
                              rules.value("management_offset").value());
}

/// The inputs of a block, gathered from the segments.
struct BlockInputs {
    Numbers pressure_mpa, outside_mm, allowable_mpa, yield_mpa, tensile_mpa, joint_efficiency,
        nominal_wall_mm, allowance_mm;

    BlockInputs(const SegmentSheet& segments, std::span<const std::uint32_t> rows) {
        const auto take = [&](S field, Numbers& into) {
            into.resize(static_cast<Eigen::Index>(rows.size()));
            gather(segments.numbers(field), rows, into);
        };
        take(S::design_pressure, pressure_mpa);
        take(S::outside_diameter, outside_mm);
        take(S::allowable_stress, allowable_mpa);
        take(S::yield_strength, yield_mpa);
        take(S::tensile_strength, tensile_mpa);
        take(S::joint_efficiency, joint_efficiency);
        take(S::nominal_wall, nominal_wall_mm);
        take(S::corrosion_allowance, allowance_mm);
    }
};

// eq. 11, by nominal size.
std::vector<RuleHit> structural_minimum(const BandTable& table) {
    std::vector<RuleHit> by_size;
    for (const PipeSize& size : pipe_sizes()) by_size.push_back(table.find(0, size.nps_inches));
    return by_size;
}

// The sum of the generic frequencies over the hole sizes, by nominal size.
std::vector<double> generic_frequency(const BandTable& table, std::size_t hole_sizes) {
    std::vector<double> by_size;
    for (const PipeSize& size : pipe_sizes()) {
        double sum = 0.0;
        for (std::size_t hole = 0; hole < hole_sizes; ++hole) {
            sum += table.find(0, size.nps_inches, static_cast<std::uint8_t>(hole)).value;
        }
        by_size.push_back(sum);
    }
    return by_size;
}

void take_structural_minimum(std::span<const std::uint8_t> sizes, const LikelihoodRules& rules,
                             std::span<const std::uint32_t> rows, Column structural_mm,
                             std::span<std::uint8_t> outside) {
    for_rows(rows, {0, rows.size()}, [&](std::size_t i, std::uint32_t segment) {
        const RuleHit& structural = rules.structural_minimum_mm[sizes[segment]];
        structural_mm[static_cast<Eigen::Index>(i)] = structural.value;
        if (structural.outside()) outside[i] = 1;
    });
}

// eq. 11: as the site says, else the larger of what pressure and structure need.
void minimum_thickness(const SegmentSheet& segments, std::span<const std::uint32_t> rows,
                       ConstColumn pressure_mm, ConstColumn structural_mm, Column minimum_mm) {
    minimum_mm = pressure_mm.max(structural_mm);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!segments.has(S::minimum_thickness, rows[i])) continue;
        minimum_mm[static_cast<Eigen::Index>(i)] = segments.numbers(S::minimum_thickness)[rows[i]];
    }
}

void fill_remaining_life(const BlockOfRows& block, const WallLossColumns& wall,
                         LikelihoodColumns& out) {
    const auto begin = static_cast<Eigen::Index>(block.range.begin);
    const auto size = static_cast<Eigen::Index>(block.range.size());
    const auto part = [&](const Numbers& column) { return column.segment(begin, size); };
    const ReadingColumns& readings = wall.readings;
    remaining_life(part(wall.wall_thickness_mm), part(out.minimum_thickness_mm),
                   part(readings.long_term_rate_mm_per_year),
                   part(readings.short_term_rate_mm_per_year),
                   {readings.rates_known.data() + begin, block.range.size()},
                   out.remaining_life_years.segment(begin, size),
                   {out.remaining_life_known.data() + begin, block.range.size()});
}

/// The rows of a block whose wall was given by a reading of small coverage: what was not seen stays
/// as the accepted readings left it, and counts where it is the worse of the two (eq. 17a).
class UnseenSurface {
  public:
    UnseenSurface(RowRange range, const WallLossColumns& wall, const LikelihoodColumns& columns) {
        for (std::size_t i = range.begin; i < range.end; ++i) {
            const auto row = static_cast<Eigen::Index>(i);
            if (wall.readings.at_small_coverage[row] != 0) rows_.push_back(row);
        }
        const auto size = static_cast<Eigen::Index>(rows_.size());
        for (Numbers* column : {&wall_mm_, &fraction_, &ratio_, &minimum_mm_, &found_}) {
            column->resize(size);
        }
        for (auto& state : states_) state.resize(size);
        for (Eigen::Index i = 0; i < size; ++i) gather(i, wall, columns);
    }

    void fill(const LikelihoodRules& rules, LikelihoodColumns& out) {
        if (rows_.empty()) return;
        const std::array<ColumnRef, damage_states> states{states_[0], states_[1], states_[2]};
        for (std::size_t k = 0; k < damage_states; ++k) {
            reliability_index(fraction_, ratio_, rules.state_factor[k], rules.scatter, found_);
            keep(out.reliability_index[k], [](double a, double b) { return std::min(a, b); });
        }
        lagline::expected_wall(wall_mm_, fraction_, states, rules.state_factor, found_);
        keep(out.expected_wall_mm, [](double a, double b) { return std::min(a, b); });
        lagline::below_minimum(wall_mm_, fraction_, minimum_mm_, states, rules.state_factor,
                               rules.scatter.thinning, found_);
        keep(out.below_minimum, [](double a, double b) { return std::max(a, b); });
    }

  private:
    void gather(Eigen::Index i, const WallLossColumns& wall, const LikelihoodColumns& columns) {
        const Eigen::Index row = rows_[static_cast<std::size_t>(i)];
        wall_mm_[i] = wall.readings.accepted_wall_mm[row];
        const double share = wall.wall_thickness_mm[row] / wall_mm_[i];
        fraction_[i] = columns.wall_fraction[row] * share +
                       wall.corrosion_rate_mm_per_year[row] *
                           wall.readings.accepted_exposed_years[row] / wall_mm_[i];
        // Every term of the strength ratio goes with 1 / wall (eq. 12 and 13).
        ratio_[i] = columns.strength_ratio[row] * share;
        minimum_mm_[i] = columns.minimum_thickness_mm[row];
        for (std::size_t k = 0; k < damage_states; ++k) {
            states_[k][i] = columns.state_probability[k][row];
        }
    }

    template <class Worse>
    void keep(Numbers& column, const Worse& worse) const {
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            double& value = column[rows_[i]];
            value = worse(value, found_[static_cast<Eigen::Index>(i)]);
        }
    }

    std::vector<Eigen::Index> rows_;
    Numbers wall_mm_, fraction_, ratio_, minimum_mm_, found_;
    std::array<Numbers, damage_states> states_;
};

// A reading at or below the minimum is a fact that no model of the rest outvotes (eq. 18a).
void heed_minimum(RowRange range, const LikelihoodRules& rules, const ReadingColumns& readings,
                  LikelihoodColumns& out) {
    for (std::size_t i = range.begin; i < range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        out.at_minimum[row] = 0;
        if (readings.read[row] == 0) continue;
        if (!(readings.thinnest_mm[row] <= out.minimum_thickness_mm[row])) continue;
        out.at_minimum[row] = 1;
        out.below_minimum[row] = 1.0;
        double failure = 0.0;
        for (std::size_t k = 0; k < damage_states; ++k) {
            failure +=
                out.state_probability[k][row] *
                std::max(normal_cdf(-out.reliability_index[k][row]), rules.failure_at_minimum);
        }
        out.damage_factor[row] = failure / rules.damage_factor_base;
    }
}

std::array<double, damage_states> prior_of(const GridTable& prior, std::uint8_t confidence) {
    std::array<double, damage_states> states{};
    for (std::size_t k = 0; k < damage_states; ++k) {
        states[k] = prior.at(confidence, static_cast<std::uint8_t>(k)).value;
    }
    return states;
}

void update_states(const BlockOfRows& block, const LikelihoodRules& rules, LikelihoodColumns& out) {
    const auto confidence = block.plant.segments.codes(S::data_confidence);
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const std::uint32_t segment = block.segments[i];
        const InspectionCounts counts =
            count_inspections(block.plant, segment, block.at, block.effectiveness);
        const auto states =
            updated_states(prior_of(*rules.prior, confidence[segment]), *rules.conditional, counts);
        for (std::size_t c = 0; c < counts.size(); ++c) out.inspections[c][row] = counts[c];
        for (std::size_t k = 0; k < damage_states; ++k) out.state_probability[k][row] = states[k];
    }
}

}  // namespace

std::span<const TableNeed> likelihood_needs() { return needs; }

LikelihoodRules likelihood_rules(const RuleSet& rules, const Plant& plant) {
    LikelihoodRules taken;
    taken.flow_stress_factor = rules.value("flow_stress_factor").value();
    taken.pressure_coefficient_y = rules.value("pressure_coefficient_y").value();
    taken.strength_ratio_shape = rules.value("strength_ratio_shape").value();
    taken.structural_minimum_mm = structural_minimum(rules.band("structural_minimum"));
    taken.prior = &rules.grid("prior_probability");
    taken.conditional = &rules.grid("conditional_probability");
    for (std::size_t k = 0; k < damage_states; ++k) {
        taken.state_factor[k] =
            rules.lookup("damage_state_factor").value(static_cast<std::uint8_t>(k));
    }
    taken.scatter = {rules.value("cov_thinning").value(), rules.value("cov_flow_stress").value(),
                     rules.value("cov_pressure").value()};
    taken.damage_factor_base = rules.value("damage_factor_base").value();
    taken.failure_at_minimum = rules.value("failure_at_minimum").value();
    taken.factors_add_up = rules.value("mechanism_combination").word() == "sum";
    taken.generic_frequency_per_year = generic_frequency(
        rules.band("generic_frequency"), rules.vocabulary("hole_size").words.size());
    taken.management_factor = management_factor(rules, plant);
    taken.probability_cap = rules.value("probability_cap").value();
    taken.base_damage = &rules.grid("scc_base_damage_factor");
    taken.crack_growth = {
        rules.value("scc_age_exponent").value(), rules.value("scc_damage_cap").value(),
        rules.value("scc_damage_floor").value(), rules.value("known_cracks_factor").value()};
    return taken;
}

void fill_wall_likelihood(const BlockOfRows& block, const LikelihoodRules& rules,
                          const WallLossColumns& wall, const CoatingColumns& coating,
                          LikelihoodColumns& out, std::span<std::uint8_t> outside) {
    const auto begin = static_cast<Eigen::Index>(block.range.begin);
    const auto size = static_cast<Eigen::Index>(block.range.size());
    const auto mine = block.segments.subspan(block.range.begin, block.range.size());
    const SegmentSheet& segments = block.plant.segments;
    const auto part = [&](Numbers& column) { return column.segment(begin, size); };
    const auto known = [&](const Numbers& column) { return column.segment(begin, size); };
    const BlockInputs in{segments, mine};
    const auto wall_mm = known(wall.wall_thickness_mm);

    wall_fraction(known(wall.corrosion_rate_mm_per_year), known(coating.exposed_time_years),
                  wall_mm, part(out.wall_fraction));
    flow_stress(in.yield_mpa, in.tensile_mpa, in.joint_efficiency, rules.flow_stress_factor,
                part(out.flow_stress_mpa));
    pressure_minimum(in.pressure_mpa, in.outside_mm, in.allowable_mpa, in.joint_efficiency,
                     in.nominal_wall_mm, in.allowance_mm, rules.pressure_coefficient_y,
                     part(out.pressure_minimum_mm));
    take_structural_minimum(segments.codes(S::nominal_size), rules, mine,
                            part(out.structural_minimum_mm),
                            outside.subspan(block.range.begin, block.range.size()));
    minimum_thickness(segments, mine, part(out.pressure_minimum_mm),
                      part(out.structural_minimum_mm), part(out.minimum_thickness_mm));
    fill_remaining_life(block, wall, out);
    strength_ratio_by_minimum(in.allowable_mpa, in.joint_efficiency, part(out.flow_stress_mpa),
                              part(out.minimum_thickness_mm), wall_mm, part(out.strength_ratio_a));
    strength_ratio_by_pressure(in.pressure_mpa, in.outside_mm, in.nominal_wall_mm,
                               part(out.flow_stress_mpa), wall_mm, rules.strength_ratio_shape,
                               part(out.strength_ratio_b));
    part(out.strength_ratio) =
        part(out.strength_ratio_a).max(part(out.strength_ratio_b));  // eq. 14
    update_states(block, rules, out);
    for (std::size_t k = 0; k < damage_states; ++k) {
        reliability_index(part(out.wall_fraction), part(out.strength_ratio), rules.state_factor[k],
                          rules.scatter, part(out.reliability_index[k]));
    }
    const std::array<ColumnRef, damage_states> states{known(out.state_probability[0]),
                                                      known(out.state_probability[1]),
                                                      known(out.state_probability[2])};
    expected_wall(wall_mm, known(out.wall_fraction), states, rules.state_factor,
                  part(out.expected_wall_mm));
    below_minimum(wall_mm, known(out.wall_fraction), known(out.minimum_thickness_mm), states,
                  rules.state_factor, rules.scatter.thinning, part(out.below_minimum));
    UnseenSurface{block.range, wall, out}.fill(rules, out);
    damage_factor({known(out.state_probability[0]), known(out.state_probability[1]),
                   known(out.state_probability[2])},
                  {known(out.reliability_index[0]), known(out.reliability_index[1]),
                   known(out.reliability_index[2])},
                  rules.damage_factor_base, part(out.damage_factor));
    heed_minimum(block.range, rules, wall.readings, out);
}

void fill_cracking_likelihood(const BlockOfRows& block, const LikelihoodRules& rules,
                              const CrackingColumns& cracking, const CoatingColumns& coating,
                              std::size_t first, LikelihoodColumns& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const auto own = static_cast<Eigen::Index>(i - first);
        const InspectionCounts counts =
            count_inspections_from(cracking.credit_begin[i - first], block.plant, block.segments[i],
                                   block.at, block.crack_effectiveness);
        for (std::size_t c = 0; c < counts.size(); ++c) out.inspections[c][row] = counts[c];
        const BaseDamage base =
            base_damage_factor(*rules.base_damage, cracking.severity[own], counts);
        out.base_damage_factor[own] = base.value;
        out.counted_inspections[own] = base.column;
        const bool known = cracking.cracks_found[own] != 0;
        out.known_cracks_factor[own] = known ? rules.crack_growth.known_factor : 1.0;
        out.damage_factor[row] =
            aged_damage_factor(base.value, coating.exposed_time_years[row],
                               out.known_cracks_factor[own], rules.crack_growth);
    }
}

void fill_combination(RowRange rows, const LikelihoodRules& rules,
                      std::span<const std::int32_t> partner, LikelihoodColumns& out) {
    if (out.combined_damage_factor.size() == 0) return;
    for (std::size_t i = rows.begin; i < rows.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const double own = out.damage_factor[row];
        const double other = partner[i] < 0 ? 0.0 : out.damage_factor[partner[i]];
        out.other_damage_factor[row] = other;
        out.combined_damage_factor[row] =
            rules.factors_add_up ? own + other : std::max(own, other);  // eq. 59
    }
}

void fill_probability(const BlockOfRows& block, const LikelihoodRules& rules,
                      LikelihoodColumns& out) {
    const auto begin = static_cast<Eigen::Index>(block.range.begin);
    const auto size = static_cast<Eigen::Index>(block.range.size());
    const auto sizes = block.plant.segments.codes(S::nominal_size);
    for_rows(block.segments, block.range, [&](std::size_t i, std::uint32_t segment) {
        out.generic_frequency_per_year[static_cast<Eigen::Index>(i)] =
            rules.generic_frequency_per_year[sizes[segment]];
    });
    out.management_factor.segment(begin, size).setConstant(rules.management_factor);
    const bool both = out.combined_damage_factor.size() > 0;
    probability_of_failure(
        out.generic_frequency_per_year.segment(begin, size), rules.management_factor,
        (both ? out.combined_damage_factor : out.damage_factor).segment(begin, size),
        rules.probability_cap, out.probability_of_failure_per_year.segment(begin, size));
}

}  // namespace lagline
