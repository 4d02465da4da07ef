#include <algorithm>
#include <cmath>

#include "report/cautions.h"
#include "report/json_writer.h"
#include "report/matrix_text.h"

namespace lagline {
namespace {

using S = SegmentField;

// Nothing for an end that has no limit.
void write_range(JsonWriter& json, std::string_view above, std::string_view upto,
                 const AxisRange& range) {
    if (std::isfinite(range.from)) json.member(above, range.from);
    if (std::isfinite(range.to)) json.member(upto, range.to);
}

void write_criteria(JsonWriter& json, const RiskCriteria& criteria) {
    json.key("criteria");
    json.begin_object();
    if (criteria.risk_per_year) json.member("risk_per_year", *criteria.risk_per_year);
    if (criteria.probability_per_year) {
        json.member("probability_per_year", *criteria.probability_per_year);
    }
    if (criteria.wall) json.member("wall", wall_criterion);
    json.end_object();
}

void write_worst(JsonWriter& json, const Plant& plant, const Ranking& ranking,
                 const MatrixCell& cell, std::size_t worst) {
    json.key("worst");
    json.begin_array();
    for (std::size_t i = 0; i < std::min(worst, cell.rows.size()); ++i) {
        const std::uint32_t row = cell.rows[i];
        const auto at = static_cast<Eigen::Index>(row);
        json.begin_object();
        json.member("segment", plant.segments.texts(S::segment)[ranking.segment_rows[row]]);
        json.member("probability_of_failure",
                    ranking.likelihood.probability_of_failure_per_year[at]);
        json.member("leak_cost", ranking.consequence.leak_cost[at]);
        json.member("risk", ranking.risk.risk_per_year[at]);
        json.end_object();
    }
    json.end_array();
}

}  // namespace

std::string matrix_json(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                        const RiskMatrix& matrix, std::size_t worst) {
    const auto word = [&](std::string_view vocabulary, std::size_t code) -> std::string_view {
        return rules.vocabulary(vocabulary).words[code].key;
    };
    JsonWriter json;
    json.begin_document();
    json.member("plant", plant.description.name);
    json.member("currency", plant.description.currency);
    json.member("ranked_at", to_string(ranking.at.date));
    json.member("ranked_at_reason", ranking.at.reason);
    json.member_texts("rules", rules.layers);
    json.member_count("ranked", ranking.order.size());
    json.member_count("not_ranked_count", ranking.not_ranked.size());
    json.member_count("money_held_by_category", matrix.held);
    write_criteria(json, plant.description.criteria);
    json.key("cells");
    json.begin_array();
    for (const MatrixCell& cell : matrix.cells) {
        json.begin_object();
        json.member("probability_category", word("probability_category", cell.probability));
        write_range(json, "probability_above", "probability_upto",
                    matrix.probabilities[cell.probability]);
        json.member("consequence_category", word("consequence_category", cell.consequence));
        write_range(json, "cost_above", "cost_upto", matrix.costs[cell.consequence]);
        json.member("risk_category", word("risk_category", cell.band));
        json.member_count("segments", cell.rows.size());
        json.member("risk", cell.risk_per_year);
        write_worst(json, plant, ranking, cell, worst);
        json.end_object();
    }
    json.end_array();
    json.key("hazards");
    json.begin_array();
    for (const HazardCount& each : matrix.hazards) {
        json.begin_object();
        json.member("risk_category", word("risk_category", each.band));
        json.member("service_hazard", each.hazard);
        json.member_count("segments", each.count);
        json.member("caution", each.hazard.empty() ? unknown_fluid_caution : each.meaning);
        json.end_object();
    }
    json.end_array();
    json.member("caution", screening_caution);
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
