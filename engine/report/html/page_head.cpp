#include <cmath>

#include "ranking/explain.h"
#include "ranking/matrix.h"
#include "ranking/overview.h"
#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/html/page_parts.h"
#include "report/matrix_marks.h"

namespace lagline {
namespace {

void write_criteria(PageJson& json, const ReportContent& content) {
    const Criteria& criteria = content.ahead.criteria;
    json.key("criteria");
    json.begin_object();
    json.member("text", describe(criteria, content.plant.description.currency));
    json.member_flag("wall", criteria.wall);
    if (criteria.probability_per_year) json.member("probability", *criteria.probability_per_year);
    if (criteria.risk_per_year) json.member("risk", *criteria.risk_per_year);
    json.key("words");
    json.begin_array();
    for (const Criterion criterion : all_criteria) json.text(to_string(criterion));
    json.end_array();
    json.end_object();
}

void write_ranges(PageJson& json, std::string_view key, const Vocabulary& words,
                  const std::vector<AxisRange>& ranges) {
    json.key(key);
    json.begin_array();
    for (std::size_t code = 0; code < words.words.size(); ++code) {
        json.begin_object();
        json.member("key", words.words[code].key);
        json.key("from");
        json.raw(number_cell(ranges[code].from));
        json.key("to");
        json.raw(number_cell(ranges[code].to));
        json.end_object();
    }
    json.end_array();
}

void write_matrix(PageJson& json, const ReportContent& content) {
    const RuleSet& rules = content.rules;
    const RiskMatrix matrix = risk_matrix(content.plant, rules, content.ranking);
    json.key("matrix");
    json.begin_object();
    write_ranges(json, "probabilities", rules.vocabulary("probability_category"),
                 matrix.probabilities);
    write_ranges(json, "consequences", rules.vocabulary("consequence_category"), matrix.costs);
    json.key("bands");
    json.begin_array();
    for (const MatrixCell& cell : matrix.cells) json.count(cell.band);
    json.end_array();
    json.end_object();
    const Vocabulary& bands = rules.vocabulary("risk_category");
    json.key("bands");
    json.begin_array();
    for (std::size_t band = 0; band < bands.words.size(); ++band) {
        json.begin_object();
        json.member("key", bands.words[band].key);
        json.member_count("look",
                          static_cast<std::size_t>(look_of_band(band, bands.words.size()).shape));
        json.end_object();
    }
    json.end_array();
}

void write_counts(PageJson& json, std::string_view key, const std::vector<std::size_t>& counts) {
    json.key(key);
    json.begin_array();
    for (const std::size_t count : counts) json.count(count);
    json.end_array();
}

void write_years(PageJson& json, const PlantOverview& overview) {
    json.key("risk_by_year");
    json.begin_array();
    for (const double risk : overview.risk_by_year) json.raw(number_cell(risk));
    json.end_array();
    json.key("due_by_year");
    json.begin_array();
    for (const DueInYear& year : overview.due_by_year) {
        json.begin_array();
        for (const std::size_t count : year) json.count(count);
        json.end_array();
    }
    json.end_array();
}

void write_units(PageJson& json, const PlantOverview& overview) {
    json.key("units");
    json.begin_array();
    for (const UnitOverview& unit : overview.units) {
        json.begin_object();
        json.member("unit", unit.unit);
        json.member_count("segments", unit.segments);
        write_counts(json, "bands", unit.bands);
        json.key("risk");
        json.raw(number_cell(unit.risk_per_year));
        json.member_count("due", unit.due);
        json.end_object();
    }
    json.end_array();
}

}  // namespace

void write_page_head(PageJson& json, const ReportContent& content) {
    const PlantDescription& plant = content.plant.description;
    json.member("plant", plant.name);
    json.member("currency", plant.currency);
    json.member("today", to_string(content.plant.today));
    json.member("ranked_at", to_string(content.ranking.at.date));
    json.member("ranked_at_reason", content.ranking.at.reason);
    json.member_texts("rules", content.rules.layers);
    json.member("version", content.version);
    json.member("segments_file", to_string(whole_of(content.plant.segments.source)));
    json.member_count("segments_in_plant", content.plant.segments.rows());
    json.member_count("inspections_in_plant", content.plant.inspection_order.size());
    json.member_count("ranked", content.ranking.order.size());
    json.member_count("shown", segments_in_page(content));
    write_engineer_list(
        json, engineer_texts(content.plant, content.rules, content.ranking.outlook->engineer_now));
    json.member("engineer_note", engineer_note);
    write_criteria(json, content);
    write_matrix(json, content);
    json.member("screening_caution", screening_caution);
    json.member_texts("field_cautions", field_cautions);
}

void write_page_overview(PageJson& json, const ReportContent& content) {
    const PlantOverview overview =
        overview_of(content.plant, content.rules, content.ranking, content.ahead);
    json.key("overview");
    json.begin_object();
    write_counts(json, "bands", overview.bands);
    json.key("risk");
    json.raw(number_cell(overview.risk_per_year));
    json.key("first_ten_share");
    json.raw(number_cell(overview.first_ten_share));
    json.member_count("due_today", overview.due_today);
    json.member_count("due", overview.due);
    json.member_count("never_inspected", overview.never_inspected);
    json.key("assumptions_mean");
    json.raw(number_cell(overview.assumptions_mean, 3));
    write_years(json, overview);
    write_units(json, overview);
    json.end_object();
}

}  // namespace lagline
