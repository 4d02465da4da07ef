#include "report/cautions.h"
#include "report/explain_text.h"
#include "report/forecast_json.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

void write(JsonWriter& json, const ExplainedInput& input) {
    json.begin_object();
    json.member("key", input.key);
    if (input.is_quantity) {
        json.member("kind", "quantity");
    } else {
        json.member("kind", "input");
        json.member("value", input.value);
        json.member("state", describe(input.state));
        json.member_flag("assumed", is_assumption(input.state));
        json.place(input.place);
        if (!input.replaced.empty()) json.member("replaced", input.replaced);
        if (!input.reason.empty()) json.member("reason", input.reason);
    }
    json.end_object();
}

void write(JsonWriter& json, const ExplainedRule& rule) {
    json.begin_object();
    json.member("table", rule.table->name);
    json.member("entry", rule.entry->key);
    if (rule.entry->word.empty()) {
        json.member("value", rule.entry->printed);
        json.member("unit", rule.table->unit);
    } else {
        json.member("word", rule.entry->word);
    }
    json.member("basis", to_string(rule.entry->basis));
    json.member("source", rule.entry->source.id);
    json.member("where", rule.entry->source.where);
    json.member_flag("outside_range", rule.outside);
    json.place(rule.entry->place);
    if (!rule.entry->reason.empty()) {
        json.member("reason", rule.entry->reason);
        json.member("replaced", rule.entry->replaced);
    }
    json.end_object();
}

void write(JsonWriter& json, const ExplainedQuantity& quantity) {
    json.begin_object();
    json.member("key", quantity.info->key);
    json.member("section", quantity.section);
    if (quantity.number) {
        json.member("value", *quantity.number);
    } else {
        json.member("word", quantity.word);
    }
    json.member("unit", quantity.unit);
    json.member("symbol", quantity.info->symbol);
    json.member("meaning", quantity.info->meaning);
    json.member("equation", quantity.info->equation);
    json.member("formula", quantity.formula);
    json.member("source", quantity.info->source);
    json.key("inputs");
    json.begin_array();
    for (const ExplainedInput& input : quantity.inputs) write(json, input);
    json.end_array();
    json.key("rules");
    json.begin_array();
    for (const ExplainedRule& rule : quantity.rules) write(json, rule);
    json.end_array();
    json.end_object();
}

void write(JsonWriter& json, const ExplainedInspection& inspection) {
    json.begin_object();
    json.member("date", to_string(inspection.date));
    json.member("technique", inspection.technique);
    json.member("coverage_percent", inspection.coverage_percent);
    json.member("effectiveness", inspection.effectiveness);
    if (inspection.least_thickness_mm) {
        json.member("least_thickness_mm", *inspection.least_thickness_mm);
    }
    if (inspection.rust_grade) json.member("rust_grade", *inspection.rust_grade);
    json.member("report", inspection.report);
    json.member_flag("gave_wall", inspection.gave_wall);
    json.member_flag("found_coating_failed", inspection.found_coating_failed);
    json.member_flag("conflicts", inspection.conflicts);
    json.member_flag("after_rank_date", inspection.after_rank_date);
    json.key("used_for");
    json.begin_array();
    for (const std::string& use : inspection.used_for) json.text(use);
    json.end_array();
    json.place(inspection.place);
    json.key("rule");
    json.begin_object();
    json.member("entry", inspection.rule->key);
    json.place(inspection.rule->place);
    json.end_object();
    json.end_object();
}

void write_head(JsonWriter& json, const Explanation& told) {
    json.member("segment", told.segment);
    json.member("line_number", told.line);
    json.member("process_unit", told.unit);
    json.member("mechanism", told.mechanism);
    json.member_count("rank", told.rank);
    json.member_count("of", told.of);
    json.member_texts("needs_engineer_now", told.engineer_why);
    if (told.rank_today > 0) json.member_count("rank_today", told.rank_today);
    json.member("ranked_at", to_string(told.at.date));
    json.member("ranked_at_reason", told.at.reason);
    json.member("currency", told.currency);
    json.member_texts("rules", told.rule_layers);
    json.member("fluid_class", told.fluid_class);
    json.member("service_hazard", told.hazard);
    json.member_count("assumptions", told.assumptions);
    json.place(told.place);
}

void write_drivers(JsonWriter& json, const Explanation& told) {
    json.key("drivers");
    json.begin_array();
    for (const Driver& driver : told.drivers) {
        json.begin_object();
        json.member("key", driver.info->key);
        json.member("value", driver.value);
        json.member("median", driver.median);
        json.end_object();
    }
    json.end_array();
}

}  // namespace

std::string explain_json(const Explanation& told) {
    JsonWriter json;
    json.begin_document();
    write_head(json, told);
    write_drivers(json, told);
    json.key("quantities");
    json.begin_array();
    for (const ExplainedQuantity& quantity : told.quantities) write(json, quantity);
    json.end_array();
    if (told.ahead && !told.ahead->curves.empty()) {
        json.key("ahead");
        json.begin_object();
        write_curve(json, *told.ahead, told.ahead->curves.front());
        json.end_object();
    }
    json.key("levels");
    json.begin_array();
    for (const ServiceLevel& level : told.levels) {
        json.begin_object();
        json.member("metal_degc", level.metal_degc);
        json.member("share", level.share);
        json.end_object();
    }
    json.end_array();
    json.key("sweating_months");
    json.begin_array();
    for (std::size_t month = 0; month < 12; ++month) {
        if ((unsigned{told.sweating.steel} >> month & 1U) == 0) continue;
        json.begin_object();
        json.member_count("month", month + 1);
        json.member_flag("steel", true);
        json.member_flag("jacket", (unsigned{told.sweating.jacket} >> month & 1U) != 0);
        json.end_object();
    }
    json.end_array();
    json.key("where_to_look");
    json.begin_array();
    for (const HotSpot& spot : told.hot_spots) {
        json.begin_object();
        json.member("place", spot.place);
        json.member("reason", spot.reason);
        json.end_object();
    }
    json.end_array();
    json.key("inspections");
    json.begin_array();
    for (const ExplainedInspection& inspection : told.inspections) write(json, inspection);
    json.end_array();
    json.key("cautions");
    json.begin_array();
    json.text(screening_caution);
    const std::string service = service_caution(told.fluid_class, told.hazard, told.hazard_meaning);
    if (!service.empty()) json.text(service);
    for (const std::string_view caution : field_cautions) json.text(caution);
    json.end_array();
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
