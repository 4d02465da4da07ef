#include "ranking/ranking.h"

#include <algorithm>
#include <numeric>

namespace lagline {
namespace {

constexpr std::string_view ferritic = "ferritic";

// Sorts the segments into those with a mechanism and those without.
void choose_rows(const Plant& plant, const RuleSet& rules, Ranking& ranking) {
    const LookupTable& family = rules.lookup("material_family");
    const Vocabulary& materials = rules.vocabulary("material");
    const Vocabulary& families = rules.vocabulary("material_family");
    const auto material = plant.segments.codes(SegmentField::material);
    for (std::uint32_t row = 0; row < plant.segments.rows(); ++row) {
        if (families.words[family.code(material[row])].key == ferritic) {
            ranking.segment_rows.push_back(row);
        } else {
            ranking.not_ranked.push_back(
                {row,
                 "no mechanism for " + materials.words[material[row]].key + " in these rules"});
        }
    }
}

void resize(Ranking& ranking) {
    const auto rows = static_cast<Eigen::Index>(ranking.rows());
    ranking.exposure.resize(rows);
    ranking.degradation.resize(rows);
    ranking.likelihood.resize(rows);
    ranking.consequence.resize(rows);
    ranking.risk.resize(rows);
    ranking.assumptions.assign(ranking.rows(), 0);
}

void count_assumptions(const Plant& plant, const std::vector<std::size_t>& fields, RowRange range,
                       Ranking& ranking) {
    for (const std::size_t field : fields) {
        for (std::size_t i = range.begin; i < range.end; ++i) {
            const CellState state = plant.segments.Sheet::state(field, ranking.segment_rows[i]);
            if (is_assumption(state)) ++ranking.assumptions[i];
        }
    }
    // What stands in no column of segments.csv: the plant's score, and the day of a reading.
    const bool no_score = !plant.description.management_score_percent.has_value();
    for (std::size_t i = range.begin; i < range.end; ++i) {
        if (no_score) ++ranking.assumptions[i];
        ranking.assumptions[i] = static_cast<std::uint16_t>(
            ranking.assumptions[i] +
            ranking.degradation.reading_assumed[static_cast<Eigen::Index>(i)]);
    }
}

void order_rows(const Plant& plant, Ranking& ranking) {
    ranking.order.resize(ranking.rows());
    std::iota(ranking.order.begin(), ranking.order.end(), 0U);
    const auto names = plant.segments.texts(SegmentField::segment);
    const Numbers& risk = ranking.risk.risk_per_year;
    std::ranges::sort(ranking.order, [&](std::uint32_t a, std::uint32_t b) {
        if (risk[a] != risk[b]) return risk[a] > risk[b];
        return names[ranking.segment_rows[a]] < names[ranking.segment_rows[b]];
    });
}

}  // namespace

std::vector<RankingSection> Ranking::sections() const {
    return {{"What the steel sees", exposure.views()},
            {"Wall loss and coating", degradation.views()},
            {"Likelihood", likelihood.views()},
            {"Consequence", consequence.views()},
            {"Risk", risk.views()}};
}

std::vector<ColumnView> Ranking::views() const {
    std::vector<ColumnView> all;
    for (const RankingSection& section : sections()) {
        all.insert(all.end(), section.columns.begin(), section.columns.end());
    }
    return all;
}

std::vector<TableNeed> ranking_needs() {
    std::vector<TableNeed> all;
    for (const auto needs :
         {degradation_needs(), likelihood_needs(), consequence_needs(), risk_needs()}) {
        all.insert(all.end(), needs.begin(), needs.end());
    }
    return all;
}

std::vector<std::size_t> fields_read() {
    std::vector<std::size_t> fields;
    const Ranking nothing;
    const auto quantities = nothing.views();
    const auto is_quantity = [&](std::string_view key, const ColumnView& asking) {
        // A quantity named like the column it is read from: the column is meant.
        if (asking.info->key == key) return false;
        return std::ranges::any_of(quantities,
                                   [&](const ColumnView& q) { return q.info->key == key; });
    };
    for (const ColumnView& quantity : quantities) {
        for (const std::string_view input : quantity.info->inputs) {
            const auto field = find_field(segment_fields(), input);
            if (field && !is_quantity(input, quantity)) fields.push_back(*field);
        }
    }
    std::ranges::sort(fields);
    fields.erase(std::unique(fields.begin(), fields.end()), fields.end());
    return fields;
}

Ranking rank(const Plant& plant, const RuleSet& rules, const WorkPlan& plan) {
    Ranking ranking;
    ranking.at = plant.ranked_at;
    ranking.effectiveness = inspection_effectiveness(plant, rules);
    choose_rows(plant, rules, ranking);
    resize(ranking);
    const DegradationRules degradation = degradation_rules(rules);
    const LikelihoodRules likelihood = likelihood_rules(rules, plant);
    const ConsequenceRules consequence = consequence_rules(rules, plant);
    const RiskRules risk = risk_rules(rules);
    const auto fields = fields_read();
    const Date at = ranking.at.date;
    for_each_block(ranking.rows(), plan, [&](std::size_t, RowRange range) {
        fill_exposure(plant, ranking.segment_rows, range, ranking.exposure);
        fill_degradation(plant, degradation, at, ranking.effectiveness, ranking.segment_rows,
                         ranking.exposure, range, ranking.degradation);
        fill_likelihood(plant, likelihood, at, ranking.effectiveness, ranking.segment_rows,
                        ranking.degradation, range, ranking.likelihood,
                        {ranking.degradation.outside_range.data(), ranking.rows()});
        fill_consequence(plant, consequence, ranking.segment_rows, range, ranking.consequence);
        fill_risk(risk, ranking.likelihood, ranking.consequence, range, ranking.risk);
        count_assumptions(plant, fields, range, ranking);
    });
    order_rows(plant, ranking);
    return ranking;
}

}  // namespace lagline
