#include "ranking/explain.h"

#include <algorithm>

#include "blocks/number_text.h"
#include "intake/cell_place.h"
#include "ranking/explain_findings.h"
#include "ranking/explain_inspections.h"
#include "ranking/explain_plant_values.h"
#include "ranking/inspections_read.h"
#include "ranking/rule_trace.h"
#include "ranking/table_arguments.h"
#include "ruleset/formula.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

class Explainer {
  public:
    Explainer(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::uint32_t row,
              const DriverFinder& drivers)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          row_(row),
          segment_(ranking.segment_rows[row]),
          arguments_(plant, rules, ranking, row),
          columns_(ranking.views()),
          drivers_(drivers) {}

    Explanation explain(std::size_t rank) {
        Explanation told;
        told.segment = plant_.segments.texts(S::segment)[segment_];
        told.line = plant_.segments.texts(S::line)[segment_];
        told.unit = plant_.segments.texts(S::unit)[segment_];
        told.mechanism = ranking_.mechanism(row_);
        told.rank = rank;
        told.of = ranking_.order.size();
        if (ranking_.outlook) {
            told.rank_today = ranking_.outlook->rank_today[row_];
            told.engineer_now =
                needs_of(ranking_.outlook->engineer_now, ranking_.segment_rows[row_]);
        }
        for (const EngineerNeed& need : told.engineer_now) {
            told.engineer_why.push_back(describe(need, plant_, rules_) + ", found " +
                                        to_string(need.found));
        }
        told.at = ranking_.at;
        told.currency = plant_.description.currency;
        told.rule_layers = rules_.layers;
        told.place = cell_place(plant_.segments, index_of(S::segment), segment_);
        for (const RankingSection& section : ranking_.sections()) {
            for (const ColumnView& column : section.columns) {
                if (!column.covers(row_)) continue;
                told.quantities.push_back(quantity(column));
                told.quantities.back().section = section.title;
            }
        }
        tell_exposure(told);
        tell_hazard(told);
        told.inspections = explain_inspections(plant_, rules_, ranking_, row_);
        told.hot_spots = find_hot_spots(plant_, rules_, ranking_, row_);
        told.drivers = drivers_.find(row_);
        told.thin_wall_ratio = rules_.value("thin_wall_ratio").value();
        told.assumptions = ranking_.assumptions[row_];
        return told;
    }

  private:
    ExplainedQuantity quantity(const ColumnView& column) {
        ExplainedQuantity told;
        told.info = column.info;
        told.formula = formula_in_force(*column.info, rules_);
        told.unit = with_currency(column.info->unit, plant_.description.currency);
        if (column.is_words()) {
            told.word = rules_.vocabulary(column.info->words).words[column.code(row_)].key;
        } else {
            told.number = column.number(row_);
        }
        for (const std::string_view key : column.info->inputs) tell_input(key, told);
        for (const std::string_view table : column.info->tables) {
            if (!arguments_.asked(table, *column.info)) continue;
            const auto traced = trace(table, *column.info);
            told.rules.insert(told.rules.end(), traced.begin(), traced.end());
        }
        if (column.info->key == "site_factor") trace_site_factors(told);
        return told;
    }

    void tell_input(std::string_view key, ExplainedQuantity& told) {
        if (stands_for_inspections(key)) {
            tell_inspections(key, told);
            return;
        }
        if (key == "vertical_length") {  // of a horizontal pipe the length does not count
            if (arguments_.is_vertical()) tell_input("length", told);
            return;
        }
        ExplainedInput one = input(key, *told.info);
        // A quantity that this row or these rules have not got, a finding that nobody made, a value
        // that plant.yaml does not give.
        const bool cell = find_field(segment_fields(), key).has_value();
        if (!one.is_quantity && !cell && one.state == CellState::absent) return;
        if (one.shown.empty()) one.shown = one.value;
        told.inputs.push_back(std::move(one));
    }

    // Of a count, those that make it.
    void tell_inspections(std::string_view key, ExplainedQuantity& told) {
        if (!told.info->key.starts_with("inspections_")) {
            const auto read = inspections_told(plant_, rules_, ranking_, row_, key);
            told.inputs.insert(told.inputs.end(), read.begin(), read.end());
            return;
        }
        const auto category = static_cast<std::uint8_t>(told.info->key.back() - 'a');
        for (const ExplainedInspection& each :
             explain_inspections(plant_, rules_, ranking_, row_)) {
            const bool of_category = ranking_.effectiveness_for(row_)[each.row] == category;
            if (each.after_rank_date || !of_category || !each.earns_credit) continue;
            ExplainedInput counted;
            counted.key = "inspection";
            counted.value = to_string(each.date) + " " + each.technique + " " +
                            exact_number(each.coverage_percent) + " %";
            counted.shown = counted.value;
            counted.state = CellState::given;
            counted.place = each.place;
            told.inputs.push_back(std::move(counted));
        }
    }

    [[nodiscard]] std::vector<ExplainedRule> trace(std::string_view table,
                                                   const QuantityInfo& of) const {
        if (table == "inspection_effectiveness" || table == "crack_inspection_effectiveness") {
            return trace_effectiveness(table, of);
        }
        const bool all =
            table == "consequence_category_of_cost" && of.key != "consequence_category";
        if (all) {
            // Limits of a category: all bands were looked through for it.
            std::vector<ExplainedRule> traced;
            const BandTable& bands = rules_.band(table);
            for (const RuleEntry& entry : bands.entries) {
                traced.push_back({&bands.info, &entry, false});
            }
            return traced;
        }
        return trace_rules(
            rules_, table,
            {[&](std::string_view words) { return arguments_.codes(words, table, of); },
             [&](std::string_view axis) { return arguments_.numbers(axis, table, of); }});
    }

    [[nodiscard]] std::vector<ExplainedRule> trace_effectiveness(std::string_view table,
                                                                 const QuantityInfo& of) const {
        std::vector<ExplainedRule> traced;
        const BandTable& bands = rules_.band(table);
        for (const std::uint32_t row : inspections_classed(plant_, ranking_, row_, of)) {
            const RuleEntry* entry = &effectiveness_rule(plant_, bands, row);
            const auto same = [&](const ExplainedRule& rule) { return rule.entry == entry; };
            if (std::ranges::any_of(traced, same)) continue;
            traced.push_back({&bands.info, entry, false});
        }
        return traced;
    }

    ExplainedInput input(std::string_view key, const QuantityInfo& of) {
        ExplainedInput told;
        told.key = key;
        // What is entered, not what it was derived to.
        const bool entered = of.key == "weather_driver" && key == "driver";
        if (key != of.key && !entered && arguments_.find_quantity(key) != nullptr) {
            told.is_quantity = true;
        } else if (const auto field = find_field(segment_fields(), key)) {
            tell_cell(told, *field);
        } else if (const auto found = find_field(inspection_fields(), key)) {
            tell_finding(told, *found, of);
        } else {
            tell_plant_value(plant_, rules_, segment_, told);
        }
        return told;
    }

    void tell_cell(ExplainedInput& told, std::size_t field) {
        told.state = plant_.segments.Sheet::state(field, segment_);
        told.value = value_text(plant_.segments, field, segment_, word_of(field));
        if (segment_fields()[field].kind == FieldKind::quantity && !told.value.empty()) {
            told.shown = shown_short(plant_.segments.Sheet::column(field).numbers[segment_],
                                     segment_fields()[field]);
        }
        told.place = cell_place(plant_.segments, field, segment_);
        if (field == index_of(S::driver) && ranking_.models.derived_driver &&
            told.state == CellState::rule_default) {
            // Not the default of the rules but what the site gives is in the column.
            told.state = CellState::derived;
            told.value = "not given";
            told.reason = "derived from rain, coast and site";
            return;
        }
        if (told.state == CellState::rule_default) {
            const auto rule = rules_.defaults.find(segment_fields()[field].key);
            // A table by another column stands before the default for all rows.
            const bool by_table =
                rules_.lookups.contains(segment_fields()[field].key) &&
                (rule == rules_.defaults.end() || rule->second.text != told.value);
            if (rule != rules_.defaults.end() && !by_table) {
                told.place = rule->second.place;
                told.reason = rule->second.reason;
            } else {
                tell_table_default(told, field);
            }
        }
        if (field == index_of(S::outage)) tell_outage_of_unit(plant_, segment_, told);
        for (const AppliedOverride& applied : plant_.applied_overrides) {
            if (applied.segment_row != segment_ || applied.field != field) continue;
            told.place =
                cell_place(plant_.overrides, index_of(OverrideField::value), applied.override_row);
            told.replaced = applied.replaced.empty() ? "an empty cell" : applied.replaced;
            told.reason = plant_.overrides.texts(OverrideField::reason)[applied.override_row];
        }
    }

    // A strength that comes from a table by the material, an outage by the fluid class.
    void tell_table_default(ExplainedInput& told, std::size_t field) {
        const auto table = rules_.lookups.find(segment_fields()[field].key);
        if (table == rules_.lookups.end()) return;
        const auto by = segment_field_of_words(table->second.info.by);
        if (!by) return;
        const auto& codes = plant_.segments.Sheet::column(*by).codes;
        const RuleEntry& entry = table->second.entries[codes[segment_]];
        told.place = entry.place;
        told.reason = table->second.info.meaning;
    }

    static std::string shown_short(double value, const FieldInfo& field) {
        std::string text = short_number(value, 6);
        if (!field.unit.empty()) text.append(" ").append(field.unit);
        return text;
    }

    // Findings are told by the inspection that was used.
    void tell_finding(ExplainedInput& told, std::size_t field, const QuantityInfo& of) {
        const auto row = finding_row(plant_, ranking_, row_, told.key, of.key);
        if (!row) return;
        const std::size_t inspection = *row;
        told.state = plant_.inspections.Sheet::state(field, inspection);
        if (told.state == CellState::absent) return;
        const FieldInfo& info = inspection_fields()[field];
        const std::string_view word =
            info.kind == FieldKind::word
                ? std::string_view{rules_.vocabulary(info.words)
                                       .words[plant_.inspections.Sheet::column(field)
                                                  .codes[inspection]]
                                       .key}
                : std::string_view{};
        told.value = value_text(plant_.inspections, field, inspection, word);
        told.place = cell_place(plant_.inspections, field, inspection);
    }

    std::string_view word_of(std::size_t field) {
        const FieldInfo& info = segment_fields()[field];
        if (info.kind != FieldKind::word ||
            plant_.segments.Sheet::state(field, segment_) == CellState::absent) {
            return "";
        }
        return rules_.vocabulary(info.words)
            .words[plant_.segments.Sheet::column(field).codes[segment_]]
            .key;
    }

    void trace_site_factors(ExplainedQuantity& told) {
        for (const SiteFactorColumn& column : site_factor_columns(rules_, plant_)) {
            told.rules.push_back({&column.table().info, &column.find(segment_), false});
        }
    }

    void tell_hazard(Explanation& told) {
        const Word* hazard = service_hazard(plant_, rules_, segment_);
        if (hazard == nullptr) return;
        told.fluid_class = word_of(index_of(S::fluid_class));
        told.hazard = hazard->key;
        told.hazard_meaning = hazard->meaning;
    }

    // What the columns hold only in sum: the levels and the months, by the functions that made
    // them.
    void tell_exposure(Explanation& told) const {
        if (!ranking_.models.service_cycle) return;
        const ExposureRules rules = exposure_rules(rules_, plant_);
        told.levels = arguments_.levels();
        told.sweating = sweating(insulated_pipe(plant_, rules, segment_, ranking_.at.date), rules,
                                 plant_.segments.numbers(S::operating_temperature)[segment_]);
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    std::uint32_t row_;
    std::uint32_t segment_;
    TableArguments arguments_;
    std::vector<ColumnView> columns_;
    const DriverFinder& drivers_;
};

}  // namespace

Explanation explain(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                    std::uint32_t row) {
    const auto rank = std::ranges::find(ranking.order, row);
    return explain(plant, rules, ranking, row, DriverFinder{ranking},
                   static_cast<std::size_t>(rank - ranking.order.begin()) + 1);
}

Explanation explain(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                    std::uint32_t row, const DriverFinder& drivers, std::size_t rank) {
    return Explainer{plant, rules, ranking, row, drivers}.explain(rank);
}

std::optional<std::uint32_t> find_row(const Plant& plant, const Ranking& ranking,
                                      std::string_view segment) {
    const auto names = plant.segments.texts(S::segment);
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        if (names[ranking.segment_rows[row]] != segment) continue;
        if (ranking.stands_for_segment(row)) return row;
    }
    return std::nullopt;
}

std::string with_currency(std::string_view unit, std::string_view currency) {
    std::string text{unit};
    if (const auto at = text.find(currency_sign); at != std::string::npos) {
        text.replace(at, currency_sign.size(), currency);
    }
    return text;
}

}  // namespace lagline
