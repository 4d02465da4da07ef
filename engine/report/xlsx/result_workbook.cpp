#include "report/xlsx/result_workbook.h"

#include <algorithm>
#include <set>
#include <string>
#include <utility>

#include "blocks/number_text.h"
#include "intake/gaps.h"
#include "planning/plan_rules.h"
#include "ranking/explain.h"
#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/layout.h"
#include "report/plan_rows.h"
#include "report/ranking_rows.h"
#include "report/register_csv.h"
#include "report/rule_value_rows.h"
#include "ruleset/formula.h"

namespace lagline {
namespace {

using S = SegmentField;

/// A small table of texts.
class TextRows : public OutputTable {
  public:
    explicit TextRows(std::vector<OutputColumn> columns) : columns_(std::move(columns)) {}
    void add(std::vector<std::string> row) { texts_.push_back(std::move(row)); }

    [[nodiscard]] std::vector<OutputColumn> columns() const override { return columns_; }
    [[nodiscard]] std::size_t rows() const override { return texts_.size(); }
    void write_row(std::size_t row, TableCells& cells) const override {
        for (const std::string& text : texts_[row]) cells.text(text);
    }

  private:
    std::vector<OutputColumn> columns_;
    std::vector<std::vector<std::string>> texts_;
};

TextRows about_rows(const Plant& plant, const RuleSet& rules, const Ranking& ranking) {
    TextRows about{{{"what"}, {"is"}}};
    about.add({"plant", plant.description.name});
    about.add({"currency", plant.description.currency});
    about.add({"rules", layers_text(rules.layers)});
    about.add({"today", to_string(plant.today)});
    about.add({"ranked at", to_string(ranking.at.date)});
    about.add({"since", ranking.at.reason});
    if (ranking.outlook) {
        about.add({"criteria", describe(ranking.outlook->criteria, plant.description.currency)});
        about.add({"years looked ahead", std::to_string(ranking.outlook->horizon_years)});
    }
    about.add({"ranked", std::to_string(ranking.order.size())});
    about.add({"not ranked", std::to_string(ranking.not_ranked.size())});
    return about;
}

void tell_plan(TextRows& about, const Plant& plant, const Plan& plan) {
    std::string prices;
    for (const std::string_view price : prices_of_the_rules(plant)) {
        prices += (prices.empty() ? "" : ", ") + std::string{price};
    }
    about.add({"prices taken from the rules", prices});
    about.add({"years planned", std::to_string(plan.futures.horizon.years)});
    about.add({"discount rate a year", exact_number(plan.futures.horizon.discount_rate_per_year)});
    about.add({"fits the limits", plan.solution.status == SolveStatus::overrun ? "no" : "yes"});
    about.add({"cost of the plan", plain_number(plan.solution.objective)});
    about.add({"no plan costs less than", plain_number(plan.solution.bound)});
}

TextRows column_rows(const Plant& plant, const RuleSet& rules, const Ranking& ranking) {
    TextRows columns{
        {{"column"}, {"unit"}, {"symbol"}, {"meaning"}, {"equation"}, {"formula"}, {"source"}}};
    for (const ColumnView& column : ranking.views()) {
        const QuantityInfo& info = *column.info;
        columns.add({csv_heading(info), with_currency(info.unit, plant.description.currency),
                     std::string{info.symbol}, std::string{info.meaning},
                     std::string{info.equation}, formula_in_force(info, rules),
                     std::string{info.source}});
    }
    return columns;
}

TextRows caution_rows() {
    TextRows cautions{{{"of"}, {"caution"}}};
    cautions.add({"every result", std::string{screening_caution}});
    for (const std::string_view caution : field_cautions) {
        cautions.add({"field work", std::string{caution}});
    }
    cautions.add({"segments without a fluid class", std::string{unknown_fluid_caution}});
    return cautions;
}

TextRows refused_rows(const Plant& plant, const Ranking& ranking) {
    TextRows refused{{{"segment"}, {"reason"}}};
    for (const NotRanked& left : ranking.not_ranked) {
        refused.add({std::string{plant.segments.texts(S::segment)[left.segment_row]}, left.reason});
    }
    return refused;
}

std::set<std::string_view> tables_of_ranking(const RuleSet& rules) {
    return names_of(ranking_needs(rules));
}

// What stands beside the one table that was asked for.
struct Beside {
    TextRows about;
    TextRows columns;  ///< of the ranking; without rows for another table
    TextRows cautions = caution_rows();
    TextRows refused;
    std::vector<Gap> gaps;
    std::vector<MarginGap> margins;

    Beside(const Plant& plant, const RuleSet& rules, const Ranking& ranking, TextRows meanings)
        : about(about_rows(plant, rules, ranking)),
          columns(std::move(meanings)),
          refused(refused_rows(plant, ranking)),
          gaps(find_gaps(plant, rules, fields_read(rules))),
          margins(margin_gaps(plant, rules)) {}
};

MadeWorkbook made_with(const Plant& plant, OutputSheet first, const EngineerRows& engineer,
                       const Beside& beside, const RuleValueRows& sources) {
    const AssumptionRows assumptions{beside.gaps, beside.margins};
    const std::string title = plant.description.name + ": " + first.name;
    std::vector<OutputSheet> sheets;
    if (engineer.rows() > 0) sheets.push_back({"needs_engineer_now", &engineer});
    sheets.push_back(std::move(first));
    sheets.push_back({"about", &beside.about});
    if (beside.columns.rows() > 0) sheets.push_back({"columns", &beside.columns});
    sheets.push_back({"assumptions", &assumptions});
    sheets.push_back({"sources", &sources});
    sheets.push_back({"cautions", &beside.cautions});
    if (beside.refused.rows() > 0) sheets.push_back({"not_ranked", &beside.refused});
    return make_workbook(
        sheets, {.title = title, .subject = std::string{screening_caution}, .made = plant.today});
}

}  // namespace

MadeWorkbook ranking_xlsx(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                          std::size_t top) {
    const RankingRows rows{plant, rules, ranking, top};
    const Beside beside{plant, rules, ranking, column_rows(plant, rules, ranking)};
    const std::span<const EngineerNeed> needs =
        ranking.outlook ? std::span{ranking.outlook->engineer_now} : std::span<EngineerNeed>{};
    return made_with(plant, {"ranking", &rows}, {plant, rules, needs}, beside,
                     {rules, tables_of_ranking(rules)});
}

MadeWorkbook plan_xlsx(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const Plan& plan) {
    const PlanRows rows{plant, rules, plan};
    Beside beside{plant, rules, ranking, TextRows{{}}};
    tell_plan(beside.about, plant, plan);
    for (const Word& caution : rules.vocabulary("work_caution").words) {
        beside.cautions.add({caution.key, caution.meaning});
    }
    auto tables = tables_of_ranking(rules);
    tables.merge(names_of(plan_needs()));
    return made_with(plant, {"plan", &rows}, {plant, rules, plan.engineer_now}, beside,
                     {rules, tables});
}

}  // namespace lagline
