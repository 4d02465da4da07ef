#include "report/ranking_json.h"

#include <algorithm>
#include <vector>

#include "ranking/explain.h"
#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/json_writer.h"
#include "ruleset/formula.h"

namespace lagline {
namespace {

using S = SegmentField;

void write_head(JsonWriter& json, const Plant& plant, const RuleSet& rules,
                const Ranking& ranking) {
    json.member("plant", plant.description.name);
    json.member("currency", plant.description.currency);
    json.member("ranked_at", to_string(ranking.at.date));
    json.member("ranked_at_reason", ranking.at.reason);
    json.member_texts("rules", rules.layers);
    if (ranking.outlook) {
        json.member("today", to_string(ranking.outlook->today));
        json.member("criteria", describe(ranking.outlook->criteria, plant.description.currency));
        json.member_count("horizon_years",
                          static_cast<std::size_t>(ranking.outlook->horizon_years));
    }
    json.member_count("ranked", ranking.order.size());
    json.member_count("not_ranked_count", ranking.not_ranked.size());
    json.member("caution", screening_caution);
}

void write_columns(JsonWriter& json, const Plant& plant, const RuleSet& rules,
                   const std::vector<ColumnView>& columns) {
    json.key("columns");
    json.begin_array();
    for (const ColumnView& column : columns) {
        json.begin_object();
        json.member("key", column.info->key);
        json.member("unit", with_currency(column.info->unit, plant.description.currency));
        json.member("symbol", column.info->symbol);
        json.member("meaning", column.info->meaning);
        json.member("equation", column.info->equation);
        json.member("formula", formula_in_force(*column.info, rules));
        json.member("source", column.info->source);
        json.end_object();
    }
    json.end_array();
}

void write_outlook(JsonWriter& json, const Outlook& outlook, std::size_t rank, std::uint32_t row) {
    if (outlook.rank_today[row] > 0) {
        json.member_count("rank_today", outlook.rank_today[row]);
        json.member("risk_today", outlook.risk_today_per_year[row]);
    }
    json.key("due");
    json.begin_object();
    for (const Criterion criterion : all_criteria) {
        if (rank >= outlook.due.size()) break;
        const auto& day = outlook.due[rank].reached[static_cast<std::size_t>(criterion)];
        if (day) json.member(to_string(criterion), to_string(*day));
    }
    json.end_object();
}

void write_row(JsonWriter& json, const Plant& plant, const RuleSet& rules, const Ranking& ranking,
               const std::vector<ColumnView>& columns, std::size_t rank) {
    const std::uint32_t row = ranking.order[rank];
    const std::uint32_t segment = ranking.segment_rows[row];
    json.begin_object();
    json.member_count("rank", rank + 1);
    json.member("segment", plant.segments.texts(S::segment)[segment]);
    json.member("line", plant.segments.texts(S::line)[segment]);
    json.member("unit", plant.segments.texts(S::unit)[segment]);
    json.member("mechanism", ranking.mechanism(row));
    if (ranking.outlook) write_outlook(json, *ranking.outlook, rank, row);
    for (const ColumnView& column : columns) {
        if (!column.covers(row)) continue;  // of the other mechanism
        json.key(column.info->key);
        if (column.is_words()) {
            json.text(rules.vocabulary(column.info->words).words[column.code(row)].key);
        } else {
            json.number(column.number(row));
        }
    }
    json.member_count("assumptions", ranking.assumptions[row]);
    json.end_object();
}

}  // namespace

std::string ranking_json(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                         std::size_t top) {
    JsonWriter json;
    const auto columns = ranking.views();
    json.begin_document();
    write_head(json, plant, rules, ranking);
    if (ranking.outlook) {
        write_engineer_list(json, engineer_texts(plant, rules, ranking.outlook->engineer_now));
    }
    write_columns(json, plant, rules, columns);
    json.key("rows");
    json.begin_array();
    const std::size_t rows = top == 0 ? ranking.order.size() : std::min(top, ranking.order.size());
    for (std::size_t rank = 0; rank < rows; ++rank) {
        write_row(json, plant, rules, ranking, columns, rank);
    }
    json.end_array();
    json.key("not_ranked");
    json.begin_array();
    for (const NotRanked& left : ranking.not_ranked) {
        json.begin_object();
        json.member("segment", plant.segments.texts(S::segment)[left.segment_row]);
        json.member("reason", left.reason);
        json.end_object();
    }
    json.end_array();
    json.key("cautions");
    json.begin_array();
    for (const std::string_view caution : field_cautions) json.text(caution);
    json.end_array();
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
