#include <map>

#include "consequence/consequence.h"
#include "intake/cell_place.h"
#include "intake/gaps.h"
#include "report/html/page_parts.h"

namespace lagline {
namespace {

using S = SegmentField;

// A page is no place for ten thousand warnings of one kind; `lagline check` has them all.
constexpr std::size_t most_warnings = 500;

void write_gaps(PageJson& json, const ReportContent& content) {
    json.key("gaps");
    json.begin_array();
    for (const Gap& gap : find_gaps(content.plant, content.rules, fields_read(content.rules))) {
        json.begin_object();
        json.member("column", segment_fields()[gap.field].key);
        json.member_count("segments", gap.count);
        json.member("taken", gap.taken);
        json.member("from", describe(gap.state));
        json.member("basis", gap.basis);
        json.member("reason", gap.reason);
        json.member("place", gap.place.file.empty() ? "" : to_string(gap.place));
        json.end_object();
    }
    json.end_array();
    json.key("margin_gaps");
    json.begin_array();
    for (const MarginGap& gap : margin_gaps(content.plant, content.rules)) {
        json.begin_object();
        json.member("unit", gap.unit);
        json.member_count("segments", gap.count);
        json.end_object();
    }
    json.end_array();
}

std::string override_text(const OverrideSheet& sheet, OverrideField field, std::size_t row) {
    return sheet.has(field, row) ? value_text(sheet, index_of(field), row, "") : "";
}

void write_overrides(PageJson& json, const Plant& plant) {
    using O = OverrideField;
    json.key("overrides");
    json.begin_array();
    for (const AppliedOverride& applied : plant.applied_overrides) {
        const std::size_t row = applied.override_row;
        json.begin_object();
        json.member("segment", plant.segments.texts(S::segment)[applied.segment_row]);
        json.member("column", segment_fields()[applied.field].key);
        json.member("replaced", applied.replaced);
        for (const O field : {O::value, O::reason, O::who, O::when, O::until}) {
            json.member(info(field).key, override_text(plant.overrides, field, row));
        }
        json.member("place", to_string(cell_place(plant.overrides, index_of(O::value), row)));
        json.end_object();
    }
    json.end_array();
}

void write_warning(PageJson& json, const Diagnostic& each) {
    json.begin_object();
    json.member("place", to_string(each.where));
    json.member("code", code_of(each.problem));
    json.member("subject", each.subject);
    json.member("found", each.found);
    json.member("expected", each.expected);
    json.member("mend", each.mend);
    json.end_object();
}

void write_warnings(PageJson& json, const Report& found) {
    json.key("warnings");
    json.begin_array();
    std::size_t written = 0;
    for (const Diagnostic& each : found.diagnostics()) {
        if (each.severity != Severity::warning || written == most_warnings) continue;
        ++written;
        write_warning(json, each);
    }
    json.end_array();
    json.member_count("warnings_in_all", found.warnings());
}

void write_not_ranked(PageJson& json, const ReportContent& content) {
    json.key("not_ranked");
    json.begin_array();
    for (const NotRanked& left : content.ranking.not_ranked) {
        json.begin_object();
        json.member("segment", content.plant.segments.texts(S::segment)[left.segment_row]);
        json.member("reason", left.reason);
        json.end_object();
    }
    json.end_array();
}

void write_sources(PageJson& json, const RuleSet& rules, const std::vector<RuleLine>& entries) {
    std::map<std::string_view, std::size_t> uses;
    for (const RuleLine& line : entries) ++uses[line.entry->source.id];
    json.key("sources");
    json.begin_array();
    for (const auto& [id, source] : rules.sources) {
        json.begin_object();
        json.member("id", id);
        json.member("title", source.title);
        json.member("edition", source.edition);
        json.member("note", source.note);
        json.member_count("entries", uses[id]);
        json.end_object();
    }
    json.end_array();
}

void write_recalled(PageJson& json, const std::vector<RuleLine>& entries) {
    json.key("recalled");
    json.begin_array();
    for (const RuleLine& line : entries) {
        if (line.entry->basis != Basis::recalled) continue;
        const std::string unit = line.table->unit == "-" ? "" : " " + line.table->unit;
        json.begin_object();
        json.member("table", line.table->name);
        json.member("entry", line.entry->key);
        json.member("value", line.entry->word.empty() ? exact_number(line.entry->printed) + unit
                                                      : line.entry->word);
        json.member("source", line.entry->source.id);
        json.member("where", line.entry->source.where);
        json.member("place", to_string(line.entry->place));
        json.end_object();
    }
    json.end_array();
    json.member_count("entries_in_all", entries.size());
}

void write_changes(PageJson& json, const RuleSet& rules) {
    json.key("changes");
    json.begin_array();
    for (const RuleChange& change : rules.changes) {
        json.begin_object();
        json.member("what", change.what);
        json.member("from", change.from);
        json.member("to", change.to);
        json.member("reason", change.reason);
        json.member("who", change.who);
        json.member("place", to_string(change.place));
        json.end_object();
    }
    json.end_array();
}

}  // namespace

void write_page_registers(PageJson& json, const ReportContent& content) {
    write_gaps(json, content);
    write_overrides(json, content.plant);
    write_warnings(json, content.found == nullptr ? Report{} : *content.found);
    write_not_ranked(json, content);
    const std::vector<RuleLine> entries = all_entries(content.rules);
    write_sources(json, content.rules, entries);
    write_recalled(json, entries);
    write_changes(json, content.rules);
}

}  // namespace lagline
