#include "ranking/method.h"

#include <algorithm>
#include <cmath>

#include "ranking/risk_order.h"

namespace lagline {
namespace {

// Which table refused the values of a row; the number it would not give has run through to the
// risk.
std::string refusal(const Ranking& ranking, std::uint32_t row) {
    const auto at = static_cast<Eigen::Index>(row);
    if (row < ranking.mechanism_rows.wall_loss) {
        if (std::isnan(ranking.wall_loss.base_rate_mm_per_year[at])) {
            return "metal temperature outside the range that base_rate accepts";
        }
        if (std::isnan(ranking.likelihood.structural_minimum_mm[at])) {
            return "nominal size outside the range that structural_minimum accepts";
        }
    }
    return "a value outside the range that a rule table accepts";
}

BlockOfRows block_of(const Plant& plant, const Ranking& ranking, RowRange rows) {
    return {plant,
            ranking.at.date,
            ranking.effectiveness,
            ranking.crack_effectiveness,
            ranking.segment_rows,
            rows};
}

}  // namespace

Method::Method(const Plant& plant, const RuleSet& rules, Wanted wanted)
    : plant_(plant),
      rules_(rules),
      exposure_(exposure_rules(rules, plant)),
      degradation_(degradation_rules(rules, plant)),
      likelihood_(likelihood_rules(rules, plant)),
      consequence_(consequence_rules(rules, plant)),
      risk_(risk_rules(rules)),
      effectiveness_(inspection_effectiveness(plant, rules)),
      crack_effectiveness_(crack_inspection_effectiveness(plant, rules)) {
    exposure_.for_rates_only = wanted == Wanted::risk;
}

void Method::choose_rows(std::optional<std::span<const std::uint32_t>> segments,
                         Ranking& ranking) const {
    const Vocabulary& materials = rules_.vocabulary("material");
    const auto material = plant_.segments.codes(SegmentField::material);
    std::vector<std::uint32_t> cracking;
    std::vector<std::pair<std::size_t, std::size_t>>
        pairs;  // row of wall loss, place in `cracking`
    const std::size_t count = segments ? segments->size() : plant_.segments.rows();
    for (std::size_t i = 0; i < count; ++i) {
        const std::uint32_t row = segments ? (*segments)[i] : static_cast<std::uint32_t>(i);
        const std::uint8_t code = material[row];
        const bool loses_wall = degradation_.loses_wall[code];
        const bool cracks = static_cast<bool>(degradation_.susceptibility[code]);
        if (loses_wall && cracks) {
            pairs.emplace_back(ranking.segment_rows.size(), cracking.size());
        }
        if (loses_wall) ranking.segment_rows.push_back(row);
        if (cracks) cracking.push_back(row);
        if (!loses_wall && !cracks) {
            ranking.not_ranked.push_back(
                {row, "no mechanism for " + materials.words[code].key + " in these rules"});
        }
    }
    const MechanismRows rows{ranking.segment_rows.size(), cracking.size()};
    ranking.segment_rows.insert(ranking.segment_rows.end(), cracking.begin(), cracking.end());
    ranking.resize(rows, models_of(rules_));
    if (!ranking.models.two_mechanisms) return;
    ranking.partner.assign(rows.all(), Ranking::alone);
    for (const auto& [wall, crack] : pairs) {
        const std::size_t cracking_row = rows.wall_loss + crack;
        ranking.partner[wall] = static_cast<std::int32_t>(cracking_row);
        ranking.partner[cracking_row] = static_cast<std::int32_t>(wall);
    }
}

Ranking Method::start(std::optional<std::span<const std::uint32_t>> segments) const {
    Ranking ranking;
    ranking.at = plant_.ranked_at;
    ranking.effectiveness = effectiveness_;
    ranking.crack_effectiveness = crack_effectiveness_;
    choose_rows(segments, ranking);
    return ranking;
}

void Method::fill_conditions(RowRange rows, Ranking& ranking) const {
    std::vector<ServiceLevels> levels;
    fill_exposure(plant_, exposure_, ranking.at.date, ranking.segment_rows, rows, ranking.exposure,
                  levels);
    const BlockOfRows block = block_of(plant_, ranking, rows);
    fill_coating_life(block, degradation_, ranking.exposure, levels, ranking.coating);
    const std::size_t first = ranking.mechanism_rows.wall_loss;
    if (rows.begin < first) {
        fill_corrosion_rate(block, degradation_, ranking.exposure, levels, ranking.wall_loss);
    } else {
        fill_susceptibility(block, degradation_, ranking.exposure, first, levels, ranking.cracking,
                            ranking.wall_loss.outside_range);
    }
    fill_consequence(plant_, consequence_, ranking.segment_rows, rows, ranking.consequence);
}

void Method::fill_state(RowRange rows, Ranking& ranking) const {
    const BlockOfRows block = block_of(plant_, ranking, rows);
    const std::size_t first = ranking.mechanism_rows.wall_loss;
    fill_coating_age(block, degradation_, ranking.coating);
    if (rows.begin < first) {
        fill_wall(block, degradation_, ranking.coating, ranking.wall_loss);
        fill_wall_likelihood(block, likelihood_, ranking.wall_loss, ranking.coating,
                             ranking.likelihood, {ranking.wall_loss.outside_range.data(), first});
    } else {
        fill_severity(block, degradation_, first, ranking.coating, ranking.cracking);
        fill_cracking_likelihood(block, likelihood_, ranking.cracking, ranking.coating, first,
                                 ranking.likelihood);
    }
}

void Method::fill_risk(RowRange rows, Ranking& ranking) const {
    const BlockOfRows block = block_of(plant_, ranking, rows);
    fill_combination(rows, likelihood_, ranking.partner, ranking.likelihood);
    fill_probability(block, likelihood_, ranking.likelihood);
    lagline::fill_risk(risk_, ranking.likelihood, ranking.consequence, rows, ranking.risk);
}

void for_each_mechanism_block(const MechanismRows& rows, const WorkPlan& plan,
                              const std::function<void(RowRange)>& work) {
    for_each_block(rows.wall_loss, plan, [&](std::size_t, RowRange range) { work(range); });
    for_each_block(rows.cracking, plan, [&](std::size_t, RowRange range) {
        work({range.begin + rows.wall_loss, range.end + rows.wall_loss});
    });
}

void fill_state_and_risk(const Method& method, const WorkPlan& plan, Ranking& ranking,
                         const std::function<void(RowRange)>& also) {
    // Only when all are done are both mechanisms of a segment known.
    const bool alone = ranking.partner.empty();
    for_each_mechanism_block(ranking.mechanism_rows, plan, [&](RowRange rows) {
        method.fill_state(rows, ranking);
        if (alone) method.fill_risk(rows, ranking);
        if (also) also(rows);
    });
    if (alone) return;
    for_each_mechanism_block(ranking.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_risk(rows, ranking); });
}

std::vector<std::uint32_t> rows_to_rank(Ranking& ranking) {
    std::vector<std::uint32_t> rows;
    rows.reserve(ranking.rows());
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        if (!ranking.stands_for_segment(row)) continue;
        if (std::isfinite(ranking.risk.risk_per_year[row])) {
            rows.push_back(row);
        } else {
            ranking.not_ranked.push_back({ranking.segment_rows[row], refusal(ranking, row)});
        }
    }
    return rows;
}

RowBefore by_name(const Plant& plant, const Ranking& ranking) {
    return [names = plant.segments.texts(SegmentField::segment),
            segments = std::span{ranking.segment_rows}](std::uint32_t a, std::uint32_t b) {
        return names[segments[a]] < names[segments[b]];
    };
}

void order_rows(const Plant& plant, const WorkPlan& plan, Ranking& ranking, std::size_t first) {
    const std::vector<std::uint32_t> rows = rows_to_rank(ranking);
    ranking.order =
        by_falling_risk(rows, ranking.risk.risk_per_year, by_name(plant, ranking), plan, first);
}

}  // namespace lagline
