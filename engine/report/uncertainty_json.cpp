#include "report/uncertainty_json.h"

#include <algorithm>

#include "report/cautions.h"
#include "report/json_writer.h"
#include "report/uncertainty_text.h"

namespace lagline {
namespace {

using S = SegmentField;

void write_head(JsonWriter& json, const Plant& plant, const RuleSet& rules,
                const Uncertainty& sure) {
    json.member("plant", plant.description.name);
    json.member("currency", plant.description.currency);
    json.member("ranked_at", to_string(sure.at.date));
    json.member("ranked_at_reason", sure.at.reason);
    json.member_texts("rules", rules.layers);
    json.member_count("samples", sure.options.samples);
    json.member_count("top", sure.options.top);
    json.member_count("ranked", sure.segments.size());
    json.member_count("gaps_drawn", sure.gaps.size());
    json.member_count("not_ranked_count", sure.not_ranked.size());
    json.key("without_distribution");
    json.begin_array();
    for (const std::size_t field : sure.without_distribution) {
        json.text(segment_fields()[field].key);
    }
    json.end_array();
    json.member("caution", screening_caution);
}

void write_gap(JsonWriter& json, const Plant& plant, const GapEffect& gap) {
    json.begin_object();
    json.member("gap", gap_name(plant, gap));
    json.member("distribution", gap.distribution->info.name);
    json.member("rank_share", gap.rank_share);
    json.member("rank_variance_removed", gap.rank_variance_removed);
    json.member("doubt_removed", gap.doubt_removed);
    json.end_object();
}

void write_segment(JsonWriter& json, const Plant& plant, const Uncertainty& sure, std::size_t i) {
    const SegmentUncertainty& each = sure.segments[i];
    json.begin_object();
    json.member_count("rank", i + 1);
    json.member("segment", plant.segments.texts(S::segment)[each.segment_row]);
    json.member("line", plant.segments.texts(S::line)[each.segment_row]);
    json.member("unit", plant.segments.texts(S::unit)[each.segment_row]);
    json.member("risk", each.risk_per_year);
    json.member("expected_risk", each.expected_risk_per_year);
    json.member("expected_damage_factor", each.expected_damage_factor);
    json.member("top_probability", each.top_probability);
    json.member("top_standard_error", each.top_error);
    json.member("rank_10", each.rank_low);
    json.member("rank_90", each.rank_high);
    json.member("rank_variance", each.rank_variance);
    json.member_count("refused_samples", each.refused);
    json.key("gaps");
    json.begin_array();
    for (std::size_t g = each.first_gap; g < each.first_gap + each.gap_count; ++g) {
        write_gap(json, plant, sure.gaps[g]);
    }
    json.end_array();
    json.end_object();
}

void write_record(JsonWriter& json, const Plant& plant, const Uncertainty& sure,
                  std::uint32_t index) {
    const GapEffect& gap = sure.gaps[index];
    const SegmentUncertainty& each = sure.segments[gap.segment];
    json.begin_object();
    json.member("segment", plant.segments.texts(S::segment)[each.segment_row]);
    json.member_count("rank", gap.segment + std::size_t{1});
    json.member("record", gap_name(plant, gap));
    json.member("top_probability", each.top_probability);
    json.member("doubt_removed", gap.doubt_removed);
    json.member("rank_variance_removed", gap.rank_variance_removed);
    json.end_object();
}

}  // namespace

std::string uncertainty_json(const Plant& plant, const RuleSet& rules, const Uncertainty& sure,
                             std::size_t rows) {
    const auto limited = [rows](std::size_t all) { return rows == 0 ? all : std::min(rows, all); };
    JsonWriter json;
    std::string text;
    json.begin_document();
    write_head(json, plant, rules, sure);
    json.key("segments");
    json.begin_array();
    for (std::size_t i = 0; i < limited(sure.segments.size()); ++i) {
        write_segment(json, plant, sure, i);
        text += json.take();
    }
    json.end_array();
    json.key("find_first");
    json.begin_array();
    for (std::size_t k = 0; k < limited(sure.find_first.size()); ++k) {
        write_record(json, plant, sure, sure.find_first[k]);
    }
    json.end_array();
    json.end_object();
    return text + json.take() + "\n";
}

}  // namespace lagline
