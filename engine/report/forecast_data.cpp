// The forecast for programs: CSV and JSON.
#include "blocks/number_text.h"
#include "report/cautions.h"
#include "report/csv_text.h"
#include "report/forecast_json.h"
#include "report/forecast_text.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

using S = SegmentField;

void append_point(std::string& csv, const ForecastCurve& curve, const ForecastPoint& point) {
    for (const double value :
         {point.damage_factor, point.probability_per_year, point.risk_per_year}) {
        csv += ',';
        append_number(csv, value);
    }
    for (const double value : {point.expected_wall_mm, point.below_minimum}) {
        csv += ',';
        if (curve.loses_wall) append_number(csv, value);
    }
    csv += '\n';
}

void write_due(JsonWriter& json, const DueDates& due) {
    json.key("due");
    json.begin_object();
    for (const Criterion criterion : all_criteria) {
        const auto& day = due.reached[static_cast<std::size_t>(criterion)];
        if (day) json.member(to_string(criterion), to_string(*day));
    }
    json.end_object();
}

}  // namespace

void write_curve(JsonWriter& json, const Forecast& ahead, const ForecastCurve& curve) {
    if (curve.loses_wall) json.member("minimum_thickness", curve.minimum_thickness_mm);
    write_due(json, curve.due);
    json.key("points");
    json.begin_array();
    for (std::size_t i = 0; i < ahead.dates.size(); ++i) {
        const ForecastPoint& point = curve.points[i];
        json.begin_object();
        json.member("date", to_string(ahead.dates[i]));
        json.member("damage_factor", point.damage_factor);
        json.member("probability_of_failure", point.probability_per_year);
        json.member("risk", point.risk_per_year);
        if (curve.loses_wall) {
            json.member("expected_wall", point.expected_wall_mm);
            json.member("below_minimum_probability", point.below_minimum);
        }
        json.end_object();
    }
    json.end_array();
}

std::string forecast_csv(const Plant& plant, const Forecast& ahead) {
    std::string csv =
        "segment,date,due_date,due_by,damage_factor,probability_of_failure "
        "[1/y],risk,expected_wall "
        "[mm],below_minimum_probability\n";
    for (const ForecastCurve& curve : ahead.curves) {
        const auto criterion = curve.due.first();
        for (std::size_t i = 0; i < ahead.dates.size(); ++i) {
            append_csv_text(csv, plant.segments.texts(S::segment)[curve.segment_row]);
            csv += "," + to_string(ahead.dates[i]) + ",";
            if (criterion) csv += to_string(*curve.due.date());
            csv += ',';
            if (criterion) csv += to_string(*criterion);
            append_point(csv, curve, curve.points[i]);
        }
    }
    return csv;
}

std::string forecast_json(const Plant& plant, const RuleSet& rules, const Forecast& ahead) {
    JsonWriter json;
    json.begin_document();
    json.member("plant", plant.description.name);
    json.member("currency", plant.description.currency);
    json.member_texts("rules", rules.layers);
    json.member("criteria", describe(ahead.criteria, plant.description.currency));
    json.member("caution", screening_caution);
    json.key("curves");
    json.begin_array();
    for (const ForecastCurve& curve : ahead.curves) {
        json.begin_object();
        json.member("segment", plant.segments.texts(S::segment)[curve.segment_row]);
        write_curve(json, ahead, curve);
        json.end_object();
    }
    json.end_array();
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
