#include "report/html/page_rationale.h"

#include <algorithm>

#include "report/explain_text.h"
#include "ruleset/formula.h"

namespace lagline {
namespace {

constexpr int driver_digits = 3;

// A number for each of `items`, as a JSON array.
template <class Items, class NumberOf>
std::string number_list(const Items& items, NumberOf number_of) {
    std::string list = "[";
    for (const auto& item : items) {
        if (list.size() > 1) list += ',';
        list += std::to_string(number_of(item));
    }
    return list + "]";
}

std::string input_piece(const ExplainedInput& input, const Explanation& segment) {
    PageJson json;
    json.begin_array();
    json.text(input.shown);
    json.text(describe(input.state));
    json.flag(is_assumption(input.state));
    // Cells of the segment's own row are found by its line and their heading.
    const bool own_row = input.place.file == segment.place.file &&
                         input.place.sheet == segment.place.sheet &&
                         input.place.line == segment.place.line;
    json.text(own_row ? "" : to_string(input.place));
    json.text(input.reason);
    json.text(input.replaced);
    json.end_array();
    return json.take();
}

std::string entry_piece(const ExplainedRule& rule) {
    PageJson json;
    json.begin_array();
    json.text(rule.table->name);
    json.text(rule.entry->key);
    const std::string unit = rule.table->unit == "-" ? "" : " " + rule.table->unit;
    json.text(rule.entry->word.empty() ? exact_number(rule.entry->printed) + unit
                                       : rule.entry->word);
    json.text(to_string(rule.entry->basis));
    json.text(rule.entry->source.id);
    json.text(rule.entry->source.where);
    json.text(to_string(rule.entry->place));
    json.flag(rule.outside);
    json.text(rule.entry->reason);
    json.text(rule.entry->replaced);
    json.end_array();
    return json.take();
}

// A finding means something else to each quantity: which inspection it is of differs.
std::string slot_of(const ExplainedInput& input, const QuantityInfo& of) {
    const bool finding = find_field(inspection_fields(), input.key).has_value() &&
                         !find_field(segment_fields(), input.key).has_value();
    return finding ? input.key + "@" + std::string{of.key} : input.key;
}

std::string levels_piece(const std::vector<ServiceLevel>& levels) {
    if (levels.size() < 2) return "[]";
    PageJson json;
    json.begin_array();
    for (const ServiceLevel& level : levels) {
        json.begin_array();
        json.raw(number_cell(level.metal_degc, 4));
        json.raw(number_cell(level.share, 4));
        json.end_array();
    }
    json.end_array();
    return json.take();
}

void write_ids(PageJson& json, std::string_view key, const std::vector<std::int32_t>& ids) {
    std::vector<std::string> cells;
    cells.reserve(ids.size());
    for (const std::int32_t id : ids) cells.push_back(std::to_string(id));
    write_column(json, key, cells);
}

}  // namespace

PageRationale::PageRationale(const Ranking& ranking) {
    for (const RankingSection& section : ranking.sections()) {
        for (const ColumnView& column : section.columns) {
            index_.emplace(column.info, quantities_.size());
            quantities_.push_back({column, section.title, {}, std::nullopt});
        }
    }
}

void PageRationale::add(const Explanation& told, std::uint32_t row) {
    rank_ = rows_.size();
    rows_.push_back(row);
    for (Quantity& quantity : quantities_) quantity.rules.push_back(-1);
    for (auto& [key, slot] : slots_) slot.push_back(-1);
    for (const ExplainedQuantity& quantity : told.quantities) {
        add_quantity(quantity, told, quantities_[index_.at(quantity.info)]);
    }
    add_lists(told);
}

void PageRationale::add_quantity(const ExplainedQuantity& told, const Explanation& segment,
                                 Quantity& into) {
    if (!told.rules.empty()) {
        into.rules.back() = static_cast<std::int32_t>(
            entry_lists_.number_of(number_list(told.rules, [this](const ExplainedRule& rule) {
                return entries_.number_of(entry_piece(rule));
            })));
    }
    add_inputs(told, segment);
}

void PageRationale::add_inputs(const ExplainedQuantity& told, const Explanation& segment) {
    for (const ExplainedInput& input : told.inputs) {
        // Inspections that make a count stand in the history of the segment.
        const bool counted = input.key == "inspection";
        if (input.is_quantity || counted || input.state == CellState::absent) continue;
        Ids& slot = slots_[slot_of(input, *told.info)];
        slot.resize(rows_.size(), -1);
        slot[rank_] = static_cast<std::int32_t>(inputs_.number_of(input_piece(input, segment)));
    }
}

void PageRationale::add_lists(const Explanation& told) {
    lines_.push_back(std::to_string(told.place.line));
    drivers_.push_back(number_list(told.drivers, [this](const Driver& driver) {
        const std::size_t at = index_.at(driver.info);
        quantities_[at].median = driver.median;
        return at;
    }));
    levels_.push_back(levels_piece(told.levels));
    sweating_.push_back("[" + std::to_string(told.sweating.steel) + "," +
                        std::to_string(told.sweating.jacket) + "]");
    spot_lists_.push_back(number_list(told.hot_spots, [this](const HotSpot& spot) {
        return spots_.number_of("[" + text_cell(spot.place) + "," + text_cell(spot.reason) + "]");
    }));
    caution_lists_.push_back(number_list(
        segment_cautions(told),
        [this](const std::string& caution) { return cautions_.number_of(text_cell(caution)); }));
    std::string inspections = "[";
    for (const ExplainedInspection& inspection : told.inspections) {
        if (inspections.size() > 1) inspections += ',';
        inspections += inspection_piece(inspection);
    }
    inspections_.push_back(inspections + "]");
}

std::string PageRationale::inspection_piece(const ExplainedInspection& inspection) {
    PageJson json;
    json.begin_array();
    json.text(to_string(inspection.date));
    json.text(inspection.technique);
    json.raw(number_cell(inspection.coverage_percent));
    json.text(inspection.effectiveness);
    json.raw(inspection.least_thickness_mm ? number_cell(*inspection.least_thickness_mm) : "null");
    json.raw(inspection.rust_grade ? number_cell(*inspection.rust_grade) : "null");
    json.text(inspection.report);
    json.text(to_string(inspection.place));
    std::string uses;
    for (const std::string& use : inspection.used_for) uses += (uses.empty() ? "" : "; ") + use;
    json.text(inspection.after_rank_date ? "after the rank date, not used" : uses);
    json.text(inspection.rule->key);
    json.text(to_string(inspection.rule->place));
    json.end_array();
    return json.take();
}

void PageRationale::write_quantity(PageJson& json, const Quantity& quantity, const RuleSet& rules,
                                   std::string_view currency) const {
    const QuantityInfo& info = *quantity.column.info;
    json.begin_object();
    json.member("key", info.key);
    json.member("section", quantity.section);
    json.member("unit", with_currency(info.unit, currency));
    json.member("symbol", info.symbol);
    json.member("meaning", info.meaning);
    json.member("equation", info.equation);
    json.member("formula", formula_in_force(info, rules));
    json.member("source", info.source);
    json.member_texts("inputs", info.inputs);
    json.member_count("digits", static_cast<std::size_t>(info.digits));
    if (quantity.median) {
        json.key("median");
        json.raw(number_cell(*quantity.median, driver_digits));
    }
    if (quantity.column.is_words()) {
        json.key("words");
        json.begin_array();
        for (const Word& word : rules.vocabulary(info.words).words) json.text(word.key);
        json.end_array();
    }
    std::vector<std::string> cells;
    cells.reserve(rows_.size());
    for (const std::uint32_t row : rows_) {
        if (!quantity.column.covers(row)) {
            cells.emplace_back("null");
        } else if (quantity.column.is_words()) {
            cells.push_back(std::to_string(quantity.column.code(row)));
        } else {
            cells.push_back(number_cell(quantity.column.number(row)));
        }
    }
    write_column(json, "values", cells);
    write_ids(json, "rules", quantity.rules);
    json.end_object();
}

void PageRationale::write(PageJson& json, const RuleSet& rules, std::string_view currency) const {
    json.key("quantities");
    json.begin_array();
    for (const Quantity& quantity : quantities_) write_quantity(json, quantity, rules, currency);
    json.end_array();
    json.key("slots");
    json.begin_object();
    for (const auto& [key, ids] : slots_) {
        Ids all = ids;
        all.resize(rows_.size(), -1);
        write_ids(json, key, all);
    }
    json.end_object();
    inputs_.write(json, "inputs");
    entries_.write(json, "entries");
    entry_lists_.write(json, "entry_lists");
    spots_.write(json, "spots");
    cautions_.write(json, "segment_cautions");
    write_column(json, "row_lines", lines_);
    write_column(json, "drivers", drivers_);
    write_column(json, "levels", levels_);
    write_column(json, "sweating", sweating_);
    write_column(json, "spot_lists", spot_lists_);
    write_column(json, "caution_lists", caution_lists_);
    write_column(json, "inspections", inspections_);
}

}  // namespace lagline
