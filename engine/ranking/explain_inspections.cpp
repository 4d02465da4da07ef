#include "ranking/explain_inspections.h"

#include <algorithm>

#include "degradation/coats.h"
#include "exposure/findings.h"
#include "intake/cell_place.h"
#include "likelihood/updating.h"
#include "ranking/explain_findings.h"

namespace lagline {
namespace {

using I = InspectionField;

/// Says what each inspection of one ranked row was used for.
class UseTeller {
  public:
    UseTeller(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
              std::uint32_t ranked)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          ranked_(ranked),
          segment_(ranking.segment_rows[ranked]),
          history_(history_rules(rules)) {
        read_readings(plant, segment_, ranking.at.date, ranking.effectiveness, reading_rules(rules),
                      readings_);
    }

    /// @param position  of the inspection in plant.inspection_order
    void tell(ExplainedInspection& told, std::uint32_t position) const {
        const auto row = static_cast<std::int32_t>(told.row);
        told.gave_wall = reading_row(ranking_, ranked_) == row;
        told.after_rank_date = told.date > ranking_.at.date;
        if (told.after_rank_date) return;
        const WholeCoat present = present_coat(plant_, history_, segment_, ranking_.at.date);
        const bool of_present =
            present.first ? told.date >= present.applied : told.date > present.applied;
        told.found_coating_failed =
            of_present && told.rust_grade && *told.rust_grade <= history_.failed_rust_grade;
        if (ranked_ < ranking_.mechanism_rows.wall_loss) {
            tell_wall(told, row);
        } else {
            tell_cracks(told);
        }
        const Date first = first_coat(plant_, history_, segment_, ranking_.at.date).applied;
        tell_coating(told, told.date > first);
        tell_insulation(told);
        if (ranking_.effectiveness_for(ranked_)[told.row] >= telling_categories) return;
        if (!may_earn_credit(position)) return;
        told.earns_credit =
            counts_for_its_day(plant_, segment_, told.row, ranking_.effectiveness_for(ranked_));
        told.used_for.push_back(
            told.earns_credit ? "counts as one inspection of effectiveness " + told.effectiveness
                              : "part of another look of its day, counted there");
    }

  private:
    // For cracking, none does that was made before known cracks, or while they are known.
    [[nodiscard]] bool may_earn_credit(std::uint32_t position) const {
        const std::size_t first = ranking_.mechanism_rows.wall_loss;
        return ranked_ < first || position >= ranking_.cracking.credit_begin[ranked_ - first];
    }

    void tell_wall(ExplainedInspection& told, std::int32_t row) const {
        const ReadingColumns& columns = ranking_.wall_loss.readings;
        if (told.gave_wall) told.used_for.emplace_back("gives the wall");
        if (columns.rates_known[ranked_] != 0) {
            if (columns.initial[ranked_] == row)
                told.used_for.emplace_back("starts the long-term rate");
            if (columns.previous[ranked_] == row)
                told.used_for.emplace_back("starts the short-term rate");
            if (told.gave_wall) told.used_for.emplace_back("ends both rates");
        }
        const auto reading = std::ranges::find(readings_, told.row, &Reading::row);
        told.conflicts = reading != readings_.end() && reading->conflicts;
        if (!told.conflicts) return;
        told.used_for.emplace_back(reading->set_aside
                                       ? "contradicts the wall found before it, set aside"
                                       : "contradicts the wall found before it, used all the same");
    }

    void tell_cracks(ExplainedInspection& told) const {
        const auto row = static_cast<std::int32_t>(told.row);
        const bool cracks = plant_.inspections.has(I::cracks_found, told.row) &&
                            plant_.inspections.codes(I::cracks_found)[told.row] != 0;
        const std::size_t own = ranked_ - ranking_.mechanism_rows.wall_loss;
        if (cracks) told.used_for.emplace_back("found cracks");
        if (ranking_.cracking.found_by[own] == row) {
            told.used_for.emplace_back("the cracks count as known: nothing has cleared them since");
        }
        if (ranking_.cracking.cleared_by[own] == row) {
            told.used_for.emplace_back("found no cracks: time starts anew");
        }
    }

    void tell_coating(ExplainedInspection& told, bool of_a_coat) const {
        if (told.found_coating_failed) told.used_for.emplace_back("coating failed");
        const bool sound = told.rust_grade && ranking_.models.life_model &&
                           *told.rust_grade >= rules_.value("sound_rust_grade").value();
        if (of_a_coat && sound) told.used_for.emplace_back("coating sound");
        const double renewed = plant_.inspections.has(I::coating_renewed, told.row)
                                   ? plant_.inspections.numbers(I::coating_renewed)[told.row] / 100
                                   : 0.0;
        const bool counts =
            ranking_.models.life_model ? renewed > 0.0 : renewed >= history_.whole_coat_share;
        if (of_a_coat && counts) told.used_for.emplace_back("coating renewed");
    }

    void tell_insulation(ExplainedInspection& told) const {
        const Date at = ranking_.at.date;
        if (ranking_.models.service_cycle && wetness_finding(plant_, segment_, at) == told.row) {
            const bool wet = plant_.inspections.codes(I::insulation_wet)[told.row] != 0;
            told.used_for.emplace_back(wet ? "insulation wet" : "insulation dry");
        }
        if (ranking_.models.jacket_findings && jacket_finding(plant_, segment_, at) == told.row) {
            const std::uint8_t damage = plant_.inspections.codes(I::jacket_damage)[told.row];
            told.used_for.push_back("damage to the jacket: " +
                                    rules_.vocabulary("jacket_damage").words[damage].key);
        }
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    std::uint32_t ranked_;
    std::uint32_t segment_;
    HistoryRules history_;
    std::vector<Reading> readings_;
};

ExplainedInspection describe_one(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                 std::uint32_t ranked, std::uint32_t row) {
    const InspectionSheet& sheet = plant.inspections;
    ExplainedInspection told;
    told.row = row;
    told.date = Date{sheet.days(I::date)[row]};
    const std::uint8_t technique = sheet.codes(I::technique)[row];
    told.technique = rules.vocabulary("technique").words[technique].key;
    told.coverage_percent = sheet.numbers(I::coverage)[row];
    const bool wall = ranked < ranking.mechanism_rows.wall_loss;
    const BandTable& table =
        rules.band(wall ? "inspection_effectiveness" : "crack_inspection_effectiveness");
    told.rule = &effectiveness_rule(plant, table, row);
    told.effectiveness =
        rules.vocabulary("effectiveness").words[ranking.effectiveness_for(ranked)[row]].key;
    if (sheet.has(I::least_thickness, row)) {
        told.least_thickness_mm = sheet.numbers(I::least_thickness)[row];
    }
    if (sheet.has(I::rust_grade, row)) told.rust_grade = sheet.numbers(I::rust_grade)[row];
    if (sheet.has(I::report, row)) told.report = sheet.texts(I::report)[row];
    told.place = cell_place(sheet, index_of(I::segment), row);
    return told;
}

}  // namespace

const RuleEntry& effectiveness_rule(const Plant& plant, const BandTable& table, std::uint32_t row) {
    const Unit percent = parse_unit("%", Dimension::number).value();
    const double share =
        convert(plant.inspections.numbers(I::coverage)[row], percent, base_unit(Dimension::number));
    return table.entries[table.find(plant.inspections.codes(I::technique)[row], share).entry];
}

std::vector<ExplainedInspection> explain_inspections(const Plant& plant, const RuleSet& rules,
                                                     const Ranking& ranking, std::uint32_t row) {
    const std::uint32_t segment = ranking.segment_rows[row];
    const UseTeller teller{plant, rules, ranking, row};
    std::vector<ExplainedInspection> all;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        all.push_back(describe_one(plant, rules, ranking, row, plant.inspection_order[i]));
        teller.tell(all.back(), i);
    }
    return all;
}

}  // namespace lagline
