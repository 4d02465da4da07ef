#include "ranking/explain_inspections.h"

#include "intake/cell_place.h"

namespace lagline {
namespace {

using I = InspectionField;

const RuleEntry& effectiveness_rule(const RuleSet& rules, std::uint8_t technique,
                                    double coverage_percent) {
    const BandTable& table = rules.band("inspection_effectiveness");
    const Unit percent = parse_unit("%", Dimension::number).value();
    const double share = convert(coverage_percent, percent, base_unit(Dimension::number));
    return table.entries[table.find(technique, share).entry];
}

ExplainedInspection explain_one(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                std::uint32_t ranked, std::uint32_t row) {
    const InspectionSheet& sheet = plant.inspections;
    ExplainedInspection told;
    told.row = row;
    told.date = Date{sheet.days(I::date)[row]};
    const std::uint8_t technique = sheet.codes(I::technique)[row];
    told.technique = rules.vocabulary("technique").words[technique].key;
    told.coverage_percent = sheet.numbers(I::coverage)[row];
    told.effectiveness = rules.vocabulary("effectiveness").words[ranking.effectiveness[row]].key;
    told.rule = &effectiveness_rule(rules, technique, told.coverage_percent);
    if (sheet.has(I::least_thickness, row)) {
        told.least_thickness_mm = sheet.numbers(I::least_thickness)[row];
    }
    if (sheet.has(I::rust_grade, row)) told.rust_grade = sheet.numbers(I::rust_grade)[row];
    if (sheet.has(I::report, row)) told.report = sheet.texts(I::report)[row];
    told.place = cell_place(sheet, index_of(I::segment), row);
    told.gave_wall = reading_row(ranking, ranked) == static_cast<std::int32_t>(row);
    told.found_coating_failed = failed_row(ranking, ranked) == static_cast<std::int32_t>(row);
    told.after_rank_date = told.date > ranking.at.date;
    return told;
}

}  // namespace

std::vector<ExplainedInspection> explain_inspections(const Plant& plant, const RuleSet& rules,
                                                     const Ranking& ranking, std::uint32_t row) {
    const std::uint32_t segment = ranking.segment_rows[row];
    std::vector<ExplainedInspection> all;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        all.push_back(explain_one(plant, rules, ranking, row, plant.inspection_order[i]));
    }
    return all;
}

std::int32_t reading_row(const Ranking& ranking, std::uint32_t row) {
    const auto& rows = ranking.wall_loss.reading;
    return row < rows.size() ? rows[row] : History::nothing;
}

std::int32_t failed_row(const Ranking& ranking, std::uint32_t row) {
    const auto& rows = ranking.wall_loss.found_failed;
    return row < rows.size() ? rows[row] : History::nothing;
}

}  // namespace lagline
