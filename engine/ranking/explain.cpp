#include "ranking/explain.h"

#include <algorithm>
#include <numeric>

#include "blocks/number_text.h"
#include "intake/cell_place.h"
#include "quantity/pipe_size.h"
#include "ranking/explain_findings.h"
#include "ranking/explain_inspections.h"
#include "ranking/explain_plant_values.h"
#include "ranking/rule_trace.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr double mm_per_km = 1e6;
constexpr double um_per_mm = 1e3;

class Explainer {
  public:
    Explainer(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::uint32_t row,
              const DriverFinder& drivers)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          row_(row),
          segment_(ranking.segment_rows[row]),
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
        if (ranking_.outlook) told.rank_today = ranking_.outlook->rank_today[row_];
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
        told.assumptions = ranking_.assumptions[row_];
        return told;
    }

  private:
    ExplainedQuantity quantity(const ColumnView& column) {
        ExplainedQuantity told;
        told.info = column.info;
        told.unit = with_currency(column.info->unit, plant_.description.currency);
        if (column.is_words()) {
            told.word = rules_.vocabulary(column.info->words).words[column.code(row_)].key;
        } else {
            told.number = column.number(row_);
        }
        for (const std::string_view key : column.info->inputs) {
            told.inputs.push_back(input(key, *column.info));
            ExplainedInput& last = told.inputs.back();
            if (last.shown.empty()) last.shown = last.value;
        }
        if (column.info->key.starts_with("inspections_")) tell_counted(told);
        const TraceContext context = context_of(*column.info);
        for (const std::string_view table : column.info->tables) {
            if (!applies(table, column.info->key)) continue;
            const auto traced = trace_rules(rules_, table, context);
            told.rules.insert(told.rules.end(), traced.begin(), traced.end());
        }
        if (column.info->key == "site_factor") trace_site_factors(told);
        return told;
    }

    // Tables of the other mechanism or material, and those whose value a given one made idle.
    [[nodiscard]] bool applies(std::string_view table, std::string_view of) const {
        if (!table_in_use(table, of, plant_, rules_, ranking_, row_)) return false;
        const bool cracking = row_ >= ranking_.mechanism_rows.wall_loss;
        if (table == "damage_factor_base") return !cracking;
        if (table == "scc_age_exponent" || table == "scc_damage_cap") return cracking;
        if (table == "cycling_factor") {
            const ColumnView* factor = find_quantity("cycling_factor");
            return factor != nullptr && factor->number(row_) != 1.0;
        }
        if (table == "wind_speed") {
            const auto& climate = plant_.description.climate;
            return !climate || !climate->wind_speed_m_per_s;
        }
        const bool duplex = table == "scc_susceptibility_duplex";
        if (!duplex && table != "scc_susceptibility") return true;
        const std::uint8_t material = plant_.segments.codes(S::material)[segment_];
        return (rules_.lookup("material_family").entries[material].word == "duplex") == duplex;
    }

    [[nodiscard]] const ColumnView* find_quantity(std::string_view key) const {
        const auto found = std::ranges::find_if(columns_, [&](const ColumnView& column) {
            return column.info->key == key && column.covers(row_);
        });
        return found == columns_.end() ? nullptr : &*found;
    }

    ExplainedInput input(std::string_view key, const QuantityInfo& of) {
        ExplainedInput told;
        told.key = key;
        if (key != of.key && find_quantity(key) != nullptr) {
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
            told.reason = "derived from rain, coast, site and sweating";
            return;
        }
        if (told.state == CellState::rule_default) {
            const auto rule = rules_.defaults.find(segment_fields()[field].key);
            if (rule != rules_.defaults.end()) {
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
        const bool by_fluid = table->second.info.by == "fluid_class";
        const auto codes = plant_.segments.codes(by_fluid ? S::fluid_class : S::material);
        const RuleEntry& entry = table->second.entries[codes[segment_]];
        told.place = entry.place;
        told.reason = table->second.info.meaning;
    }

    static std::string shown_short(double value, const FieldInfo& field) {
        std::string text = short_number(value, 6);
        if (!field.unit.empty()) text.append(" ").append(field.unit);
        return text;
    }

    // The inspections that make a count.
    void tell_counted(ExplainedQuantity& told) {
        const auto category = static_cast<std::uint8_t>(told.info->key.back() - 'a');
        for (const ExplainedInspection& each :
             explain_inspections(plant_, rules_, ranking_, row_)) {
            if (each.after_rank_date || ranking_.effectiveness[each.row] != category) continue;
            ExplainedInput counted;
            counted.key = "inspection";
            counted.value = to_string(each.date) + " " + each.technique + " " +
                            exact_number(each.coverage_percent) + " %";
            counted.shown = counted.value;
            counted.state = CellState::given;
            counted.place = each.place;
            told.inputs.push_back(std::move(counted));
            told.rules.push_back({&rules_.band("inspection_effectiveness").info, each.rule, false});
        }
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

    TraceContext context_of(const QuantityInfo& info) {
        TraceContext context;
        context.code = [this, &info](std::string_view words) { return code(words, info); };
        context.number = [this](std::string_view axis) { return axis_value(axis); };
        if (info.key.starts_with("state_probability_") ||
            info.key.starts_with("reliability_index_")) {
            context.state = static_cast<std::uint8_t>(info.key.back() - '1');
        }
        for (std::size_t c = 0; c < telling_categories; ++c) {
            if (ranking_.likelihood.inspections[c][row_] > 0.0) {
                context.effectiveness.push_back(static_cast<std::uint8_t>(c));
            }
        }
        return context;
    }

    // Code that the inputs of a quantity hold of a vocabulary.
    std::optional<std::uint8_t> code(std::string_view words, const QuantityInfo& info) const {
        const auto found = finding_code(plant_, ranking_, row_, words, info.key);
        if (found) return found;
        if (words == "coating_rigidity") {
            return rules_.lookup("coating_rigidity_of").code(coating_system());
        }
        for (const std::string_view key : info.inputs) {
            const ColumnView* column = key == info.key ? nullptr : find_quantity(key);
            if (column != nullptr && column->info->words == words) return column->code(row_);
            const auto field = find_field(segment_fields(), key);
            if (column != nullptr || !field || segment_fields()[*field].words != words) continue;
            if (plant_.segments.Sheet::state(*field, segment_) == CellState::absent) continue;
            return plant_.segments.Sheet::column(*field).codes[segment_];
        }
        return std::nullopt;
    }

    std::optional<double> axis_value(std::string_view axis) const {
        if (axis == "nominal_size") {
            return pipe_sizes()[plant_.segments.codes(S::nominal_size)[segment_]].nps_inches;
        }
        if (axis == "leak_cost") {
            return ranking_.consequence.leak_cost[row_] /
                   consequence_rules(rules_, plant_).plant_per_usd;
        }
        const auto& climate = plant_.description.climate;
        if (axis == "annual_rainfall" && climate) {
            return std::accumulate(climate->rainfall_mm.begin(), climate->rainfall_mm.end(), 0.0);
        }
        if (axis == "coast_distance" && climate && climate->coast_distance_km) {
            return *climate->coast_distance_km * mm_per_km;
        }
        if (axis == "film_ratio") return film_ratio();
        if (const auto field = find_field(segment_fields(), axis)) {
            const FieldInfo& info = segment_fields()[*field];
            if (plant_.segments.Sheet::state(*field, segment_) == CellState::absent) {
                return std::nullopt;
            }
            return convert(plant_.segments.Sheet::column(*field).numbers[segment_],
                           parse_unit(info.unit, info.dimension).value(),
                           base_unit(info.dimension));
        }
        const bool cracking = row_ >= ranking_.mechanism_rows.wall_loss;
        const ColumnView* column =
            find_quantity(cracking && axis == "metal_temperature" ? "governing_temperature" : axis);
        if (column == nullptr || column->is_words()) return std::nullopt;
        return column->number(row_);
    }

    [[nodiscard]] std::optional<double> film_ratio() const {
        const ColumnView* film = find_quantity("film_in_service");
        if (film == nullptr || film->number(row_) < 0.0) return std::nullopt;
        const double least_um = um_per_mm * rules_.lookup("film_least").value(coating_system());
        return least_um > 0.0 ? std::optional{film->number(row_) / least_um} : std::nullopt;
    }

    [[nodiscard]] std::uint8_t coating_system() const {
        return plant_.segments.codes(S::coating_system)[segment_];
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
        const auto at = static_cast<Eigen::Index>(row_);
        const ExposureRules rules = exposure_rules(rules_, plant_);
        const SegmentLevels found =
            segment_levels(plant_, rules, segment_, ranking_.exposure.driver[at],
                           ranking_.exposure.transmittance_w_per_m_k[at]);
        told.levels.assign(found.levels.all().begin(), found.levels.all().end());
        told.sweating = sweating(insulated_pipe(plant_, rules, segment_, ranking_.at.date), rules,
                                 plant_.segments.numbers(S::operating_temperature)[segment_]);
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    std::uint32_t row_;
    std::uint32_t segment_;
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
