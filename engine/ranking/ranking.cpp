#include "ranking/ranking.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace lagline {
namespace {

constexpr std::string_view ferritic = "ferritic";

// Sorts the segments into the mechanisms and those that have none.
void choose_rows(const Plant& plant, const RuleSet& rules, const DegradationRules& degradation,
                 Ranking& ranking) {
    const LookupTable& family = rules.lookup("material_family");
    const Vocabulary& materials = rules.vocabulary("material");
    const auto material = plant.segments.codes(SegmentField::material);
    std::vector<std::uint32_t> cracking;
    for (std::uint32_t row = 0; row < plant.segments.rows(); ++row) {
        const std::uint8_t code = material[row];
        if (family.entries[code].word == ferritic) {
            ranking.segment_rows.push_back(row);
        } else if (degradation.susceptibility[code] != nullptr) {
            cracking.push_back(row);
        } else {
            ranking.not_ranked.push_back(
                {row, "no mechanism for " + materials.words[code].key + " in these rules"});
        }
    }
    const MechanismRows rows{ranking.segment_rows.size(), cracking.size()};
    ranking.segment_rows.insert(ranking.segment_rows.end(), cracking.begin(), cracking.end());
    ranking.resize(rows, models_of(rules));
}

// Columns of segments.csv among the inputs of the columns that cover `row`.
std::vector<std::size_t> fields_of_row(const std::vector<ColumnView>& quantities, std::size_t row) {
    std::vector<std::size_t> fields;
    const auto is_quantity = [&](std::string_view key, const ColumnView& asking) {
        // A quantity named like the column it is read from: the column is meant.
        if (asking.info->key == key) return false;
        return std::ranges::any_of(quantities,
                                   [&](const ColumnView& q) { return q.info->key == key; });
    };
    for (const ColumnView& quantity : quantities) {
        if (!quantity.covers(row)) continue;
        for (const std::string_view input : quantity.info->inputs) {
            const auto field = find_field(segment_fields(), input);
            if (field && !is_quantity(input, quantity)) fields.push_back(*field);
        }
    }
    std::ranges::sort(fields);
    fields.erase(std::unique(fields.begin(), fields.end()), fields.end());
    return fields;
}

void count_assumptions(const Plant& plant, const std::vector<std::size_t>& fields, RowRange range,
                       Ranking& ranking) {
    for (const std::size_t field : fields) {
        for (std::size_t i = range.begin; i < range.end; ++i) {
            const CellState state = plant.segments.Sheet::state(field, ranking.segment_rows[i]);
            if (is_assumption(state)) ++ranking.assumptions[i];
        }
    }
    // What stands in no column of segments.csv: the plant's score, and the day of a reading.
    const bool no_score = !plant.description.management_score_percent.has_value();
    for (std::size_t i = range.begin; i < range.end; ++i) {
        if (no_score) ++ranking.assumptions[i];
        if (i >= ranking.wall_loss.reading.size()) continue;
        const std::int32_t reading = ranking.wall_loss.reading[i];
        if (reading == History::nothing) continue;
        const CellState day =
            plant.inspections.state(InspectionField::date, static_cast<std::size_t>(reading));
        if (is_assumption(day)) ++ranking.assumptions[i];
    }
}

// Which table refused the values of a row; the number it would not give has run through to the
// risk.
std::string refusal(const Ranking& ranking, std::uint32_t row) {
    const auto at = static_cast<Eigen::Index>(row);
    if (row < ranking.mechanism_rows.wall_loss) {
        if (std::isnan(ranking.wall_loss.base_rate_mm_per_year[at])) {
            return "metal temperature outside the range that base_rate accepts";
        }
        if (std::isnan(ranking.likelihood.structural_minimum_mm[at])) {
            return "nominal size outside the range that structural_minimum accepts";
        }
    }
    return "a value outside the range that a rule table accepts";
}

void order_rows(const Plant& plant, Ranking& ranking) {
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        if (std::isfinite(ranking.risk.risk_per_year[row])) {
            ranking.order.push_back(row);
        } else {
            ranking.not_ranked.push_back({ranking.segment_rows[row], refusal(ranking, row)});
        }
    }
    const auto names = plant.segments.texts(SegmentField::segment);
    const Numbers& risk = ranking.risk.risk_per_year;
    std::ranges::sort(ranking.order, [&](std::uint32_t a, std::uint32_t b) {
        if (risk[a] != risk[b]) return risk[a] > risk[b];
        return names[ranking.segment_rows[a]] < names[ranking.segment_rows[b]];
    });
}

/// The rules of every step, taken out of the rule set once.
struct MethodRules {
    ExposureRules exposure;
    DegradationRules degradation;
    LikelihoodRules likelihood;
    ConsequenceRules consequence;
    RiskRules risk;
};

/// Takes the rows of one mechanism through the steps.
class MechanismRanker {
  public:
    MechanismRanker(const Plant& plant, const MethodRules& rules, Ranking& ranking, bool cracking)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          cracking_(cracking),
          first_(cracking ? ranking.mechanism_rows.wall_loss : 0),
          count_(cracking ? ranking.mechanism_rows.cracking : ranking.mechanism_rows.wall_loss),
          fields_(count_ == 0 ? std::vector<std::size_t>{}
                              : fields_of_row(ranking.views(), first_)) {}

    void run(const WorkPlan& plan) {
        for_each_block(count_, plan, [&](std::size_t, RowRange range) {
            rank_block({range.begin + first_, range.end + first_});
        });
    }

  private:
    void rank_block(RowRange range) {
        std::vector<ServiceLevels> levels;
        fill_exposure(plant_, rules_.exposure, ranking_.at.date, ranking_.segment_rows, range,
                      ranking_.exposure, levels);
        const BlockOfRows block{
            plant_, ranking_.at.date, ranking_.effectiveness, ranking_.segment_rows, range, levels};
        fill_coating(block, rules_.degradation, ranking_.exposure, ranking_.coating);
        if (!cracking_) {
            fill_wall_loss(block, rules_.degradation, ranking_.exposure, ranking_.coating,
                           ranking_.wall_loss);
            fill_wall_likelihood(
                block, rules_.likelihood, ranking_.wall_loss, ranking_.coating, ranking_.likelihood,
                {ranking_.wall_loss.outside_range.data(), ranking_.mechanism_rows.wall_loss});
        } else {
            fill_cracking(block, rules_.degradation, ranking_.exposure, first_, ranking_.coating,
                          ranking_.cracking);
            fill_cracking_likelihood(block, rules_.likelihood, ranking_.cracking, ranking_.coating,
                                     first_, ranking_.likelihood);
        }
        fill_probability(block, rules_.likelihood, ranking_.likelihood);
        fill_consequence(plant_, rules_.consequence, ranking_.segment_rows, range,
                         ranking_.consequence);
        fill_risk(rules_.risk, ranking_.likelihood, ranking_.consequence, range, ranking_.risk);
        count_assumptions(plant_, fields_, range, ranking_);
    }

    const Plant& plant_;
    const MethodRules& rules_;
    Ranking& ranking_;
    bool cracking_;
    std::size_t first_;
    std::size_t count_;
    std::vector<std::size_t> fields_;
};

std::vector<TableNeed> needs_of(const MethodModels& models) {
    std::vector<TableNeed> all = exposure_needs(models);
    const auto degradation = degradation_needs(models);
    all.insert(all.end(), degradation.begin(), degradation.end());
    for (const auto needs : {likelihood_needs(), consequence_needs(), risk_needs()}) {
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
    wall_loss.resize(static_cast<Eigen::Index>(rows.wall_loss), chosen.service_cycle);
    cracking.resize(static_cast<Eigen::Index>(rows.cracking));
    likelihood.resize(rows);
    consequence.resize(all);
    risk.resize(all);
    assumptions.assign(rows.all(), 0);
}

std::vector<RankingSection> Ranking::sections() const {
    std::vector<ColumnView> all;
    for (const auto& part : {exposure.views(), coating.views(), wall_loss.views(),
                             cracking.views(mechanism_rows.wall_loss), likelihood.views(),
                             consequence.views(), risk.views()}) {
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
    if (rules.bands.contains(duplex_need().name)) needs.push_back(duplex_need());
    return needs;
}

Report check_rules(const RuleSet& rules, std::span<const TableNeed> more) {
    Report report = check_models(rules);
    // Tables of a model that the rules do not choose are idle, not mistaken.
    auto known = needs_of({.service_cycle = true, .derived_driver = true, .life_model = true});
    known.push_back(duplex_need());
    auto needs = ranking_needs(rules);
    needs.insert(needs.end(), more.begin(), more.end());
    report.merge(check_needs(rules, needs, known));
    return report;
}

std::vector<std::size_t> fields_read(const RuleSet& rules) {
    Ranking one_each;
    one_each.resize({1, 1}, models_of(rules));
    const auto quantities = one_each.views();
    std::vector<std::size_t> fields = fields_of_row(quantities, 0);
    const auto more = fields_of_row(quantities, 1);
    fields.insert(fields.end(), more.begin(), more.end());
    std::ranges::sort(fields);
    fields.erase(std::unique(fields.begin(), fields.end()), fields.end());
    return fields;
}

Ranking rank(const Plant& plant, const RuleSet& rules, const WorkPlan& plan) {
    Ranking ranking;
    ranking.at = plant.ranked_at;
    ranking.effectiveness = inspection_effectiveness(plant, rules);
    const MethodRules method{exposure_rules(rules, plant), degradation_rules(rules, plant),
                             likelihood_rules(rules, plant), consequence_rules(rules, plant),
                             risk_rules(rules)};
    choose_rows(plant, rules, method.degradation, ranking);
    MechanismRanker{plant, method, ranking, false}.run(plan);
    MechanismRanker{plant, method, ranking, true}.run(plan);
    order_rows(plant, ranking);
    return ranking;
}

}  // namespace lagline
