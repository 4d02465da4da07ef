#include "ranking/ranking.h"

#include <algorithm>

#include "intake/limits.h"
#include "ranking/method.h"

namespace lagline {
namespace {

// Indices into segment_fields().
using Fields = std::vector<std::size_t>;

// Columns of segments.csv among the inputs of the columns that the mechanism of `row` has.
Fields fields_of_row(const std::vector<ColumnView>& quantities, std::size_t row) {
    Fields fields;
    const auto is_quantity = [&](std::string_view key, const ColumnView& asking) {
        // A quantity named like the column it is read from: the column is meant.
        if (asking.info->key == key) return false;
        return std::ranges::any_of(quantities,
                                   [&](const ColumnView& q) { return q.info->key == key; });
    };
    for (const ColumnView& quantity : quantities) {
        if (!quantity.spans(row)) continue;
        for (const std::string_view input : quantity.info->inputs) {
            const auto field = find_field(segment_fields(), input);
            if (field && !is_quantity(input, quantity)) fields.push_back(*field);
        }
    }
    std::ranges::sort(fields);
    fields.erase(std::unique(fields.begin(), fields.end()), fields.end());
    return fields;
}

void count_assumptions(const Plant& plant, const Fields& fields, RowRange range, Ranking& ranking) {
    for (const std::size_t field : fields) {
        const auto& states = plant.segments.Sheet::column(field).states;
        if (states.empty()) continue;
        for_rows(ranking.segment_rows, range, [&](std::size_t i, std::uint32_t segment) {
            const unsigned more = is_assumption(states[segment]) ? 1 : 0;
            ranking.assumptions[i] = static_cast<std::uint16_t>(ranking.assumptions[i] + more);
        });
    }
    // What stands in no column of segments.csv: the plant's score, the margin that the unit loses,
    // and the day of a reading.
    const bool no_score = !plant.description.management_score_percent.has_value();
    for (std::size_t i = range.begin; i < range.end; ++i) {
        if (no_score) ++ranking.assumptions[i];
        if (ranking.consequence.assumes_margin(plant, ranking.segment_rows[i], i)) {
            ++ranking.assumptions[i];
        }
        if (i >= ranking.wall_loss.reading.size()) continue;
        const std::int32_t reading = ranking.wall_loss.reading[i];
        if (reading == History::nothing) continue;
        const CellState day =
            plant.inspections.state(InspectionField::date, static_cast<std::size_t>(reading));
        if (is_assumption(day)) ++ranking.assumptions[i];
    }
}

void fill_conditions(const Method& method, const WorkPlan& plan, Ranking& ranking) {
    for_each_mechanism_block(ranking.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_conditions(rows, ranking); });
}

// State and risk at the date of the ranking, and what was assumed for them.
void fill_at_rank_date(const Method& method, const WorkPlan& plan, Ranking& ranking) {
    const std::size_t first_cracking = ranking.mechanism_rows.wall_loss;
    const auto views = ranking.views();
    const auto wall_fields = first_cracking > 0 ? fields_of_row(views, 0) : Fields{};
    const auto crack_fields =
        ranking.mechanism_rows.cracking > 0 ? fields_of_row(views, first_cracking) : Fields{};
    fill_state_and_risk(method, plan, ranking, [&](RowRange rows) {
        const Fields& fields = rows.begin < first_cracking ? wall_fields : crack_fields;
        count_assumptions(method.plant(), fields, rows, ranking);
    });
}

std::vector<TableNeed> needs_of(const MethodModels& models) {
    std::vector<TableNeed> all = exposure_needs(models);
    for (const auto& needs : {degradation_needs(models), consequence_needs(models)}) {
        all.insert(all.end(), needs.begin(), needs.end());
    }
    for (const auto needs : {likelihood_needs(), risk_needs(), criteria_needs()}) {
        all.insert(all.end(), needs.begin(), needs.end());
    }
    return all;
}

}  // namespace

void Ranking::resize(const MechanismRows& rows, const MethodModels& chosen) {
    models = chosen;
    mechanism_rows = rows;
    const auto all = static_cast<Eigen::Index>(rows.all());
    exposure.resize(all, chosen);
    coating.resize(all, chosen.life_model);
    wall_loss.resize(static_cast<Eigen::Index>(rows.wall_loss), all, chosen);
    cracking.resize(static_cast<Eigen::Index>(rows.cracking));
    likelihood.resize(rows, chosen.two_mechanisms);
    consequence.resize(all, chosen.money);
    risk.resize(all);
    assumptions.assign(rows.all(), 0);
}

std::optional<std::uint32_t> Ranking::other_mechanism(std::size_t row) const {
    if (partner.empty() || partner[row] == alone) return std::nullopt;
    return static_cast<std::uint32_t>(partner[row]);
}

bool Ranking::stands_for_segment(std::size_t row) const {
    const auto other = other_mechanism(row);
    if (!other) return true;
    const double own_factor = likelihood.damage_factor[static_cast<Eigen::Index>(row)];
    const double other_factor = likelihood.damage_factor[*other];
    if (own_factor > other_factor) return true;
    return !(other_factor > own_factor) && row < *other;
}

std::vector<RankingSection> Ranking::sections() const {
    std::vector<ColumnView> all;
    for (const auto& part :
         {exposure.views(models), coating.views(models.life_model), wall_loss.views(models),
          cracking.views(mechanism_rows.wall_loss, models), likelihood.views(models.two_mechanisms),
          consequence.views(models.money), risk.views()}) {
        all.insert(all.end(), part.begin(), part.end());
    }
    std::vector<RankingSection> sections;
    for (const Barrier barrier :
         {Barrier::material, Barrier::coating, Barrier::water, Barrier::design, Barrier::damage,
          Barrier::consequence, Barrier::risk}) {
        RankingSection section{title_of(barrier), {}};
        for (const ColumnView& column : all) {
            if (column.info->barrier == barrier) section.columns.push_back(column);
        }
        sections.push_back(std::move(section));
    }
    return sections;
}

std::vector<ColumnView> Ranking::views() const {
    std::vector<ColumnView> all;
    for (const RankingSection& section : sections()) {
        all.insert(all.end(), section.columns.begin(), section.columns.end());
    }
    return all;
}

std::vector<TableNeed> ranking_needs(const RuleSet& rules) {
    auto needs = needs_of(models_of(rules));
    const auto limits = limit_needs();
    needs.insert(needs.end(), limits.begin(), limits.end());
    if (rules.bands.contains(duplex_need().name)) needs.push_back(duplex_need());
    if (models_of(rules).jacket_findings) needs.push_back(jacket_damage_need());
    return needs;
}

Report check_rules(const RuleSet& rules, std::span<const TableNeed> more) {
    Report report = check_models(rules);
    // Tables of a model that the rules do not choose are idle, not mistaken.
    auto known = needs_of({.service_cycle = true,
                           .derived_driver = true,
                           .life_model = true,
                           .two_mechanisms = true,
                           .measured_rate = true,
                           .money = true});
    known.push_back(duplex_need());
    auto needs = ranking_needs(rules);
    needs.insert(needs.end(), more.begin(), more.end());
    report.merge(check_needs(rules, needs, known));
    return report;
}

std::array<std::vector<std::size_t>, 2> fields_by_mechanism(const RuleSet& rules) {
    Ranking one_each;
    one_each.resize({1, 1}, models_of(rules));
    const auto quantities = one_each.views();
    return {fields_of_row(quantities, 0), fields_of_row(quantities, 1)};
}

std::vector<std::size_t> fields_read(const RuleSet& rules) {
    auto [fields, more] = fields_by_mechanism(rules);
    fields.insert(fields.end(), more.begin(), more.end());
    std::ranges::sort(fields);
    fields.erase(std::unique(fields.begin(), fields.end()), fields.end());
    return fields;
}

Ranking rank(const Plant& plant, const RuleSet& rules, const WorkPlan& plan) {
    const Method method{plant, rules};
    Ranking ranking = method.start();
    fill_conditions(method, plan, ranking);
    fill_at_rank_date(method, plan, ranking);
    order_rows(plant, plan, ranking);
    return ranking;
}

namespace {

// `first`: the first ranks that are wanted in order, 0 for all; `due`: those that due dates are
// wanted of.
Ranking ranked_with_outlook(const Plant& plant, const RuleSet& rules, std::size_t first,
                            std::size_t due, const WorkPlan& plan) {
    const Method method{plant, rules};
    Ranking ranking = method.start();
    fill_conditions(method, plan, ranking);
    Outlook outlook;
    const auto ranked_today = look_at_today(method, ranking, plan, outlook);
    fill_at_rank_date(method, plan, ranking);
    order_rows(plant, plan, ranking, first == 0 ? ranking.rows() : first);
    rank_today(plant, ranking, ranked_today, first, plan, outlook);
    look_ahead(plant, rules, ranking, due, plan, outlook);
    ranking.outlook = std::move(outlook);
    return ranking;
}

}  // namespace

Ranking rank_with_outlook(const Plant& plant, const RuleSet& rules, std::size_t top,
                          const WorkPlan& plan) {
    return ranked_with_outlook(plant, rules, 0, top, plan);
}

Ranking rank_first(const Plant& plant, const RuleSet& rules, std::size_t top,
                   const WorkPlan& plan) {
    return ranked_with_outlook(plant, rules, top, top, plan);
}

}  // namespace lagline
