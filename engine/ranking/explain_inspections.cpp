#include "ranking/explain_inspections.h"

#include <algorithm>

#include "exposure/findings.h"
#include "intake/cell_place.h"
#include "ranking/explain_findings.h"

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

const RuleEntry& effectiveness_rule(const RuleSet& rules, std::uint8_t technique,
                                    double coverage_percent) {
    const BandTable& table = rules.band("inspection_effectiveness");
    const Unit percent = parse_unit("%", Dimension::number).value();
    const double share = convert(coverage_percent, percent, base_unit(Dimension::number));
    return table.entries[table.find(technique, share).entry];
}

/// Says what each inspection of one ranked row was used for.
class UseTeller {
  public:
    UseTeller(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
              std::uint32_t ranked)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          ranked_(ranked),
          segment_(ranking.segment_rows[ranked]) {
        read_readings(plant, segment_, ranking.at.date, ranking.effectiveness, reading_rules(rules),
                      readings_);
    }

    void tell(ExplainedInspection& told) const {
        const auto row = static_cast<std::int32_t>(told.row);
        told.gave_wall = reading_row(ranking_, ranked_) == row;
        told.after_rank_date = told.date > ranking_.at.date;
        if (told.after_rank_date) return;
        told.found_coating_failed = found_failed(plant_, segment_, told.row,
                                                 rules_.value("coating_failed_rust_grade").value());
        if (ranked_ < ranking_.mechanism_rows.wall_loss) {
            tell_wall(told, row);
        } else {
            tell_cracks(told);
        }
        tell_coating(told);
        tell_insulation(told);
        if (ranking_.effectiveness[told.row] < telling_categories) {
            told.used_for.push_back("counts as one inspection of effectiveness " +
                                    told.effectiveness);
        }
    }

  private:
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
        const bool cracks = plant_.inspections.has(I::cracks_found, told.row) &&
                            plant_.inspections.codes(I::cracks_found)[told.row] != 0;
        const bool accepted =
            rules_.lookup("reading_accepted").code(ranking_.effectiveness[told.row]) != 0;
        if (cracks) told.used_for.emplace_back("found cracks");
        if (!cracks && accepted) told.used_for.emplace_back("found no cracks: time starts anew");
    }

    void tell_coating(ExplainedInspection& told) const {
        if (told.found_coating_failed) told.used_for.emplace_back("coating failed");
        if (!ranking_.models.life_model) return;
        const bool present = told.date > Date{plant_.segments.days(S::coating_date)[segment_]};
        const bool sound =
            told.rust_grade.value_or(-1.0) >= rules_.value("sound_rust_grade").value();
        if (present && sound) told.used_for.emplace_back("coating sound");
        const bool renewed = plant_.inspections.has(I::coating_renewed, told.row) &&
                             plant_.inspections.numbers(I::coating_renewed)[told.row] > 0.0;
        if (present && renewed) told.used_for.emplace_back("coating renewed");
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
    std::vector<Reading> readings_;
};

ExplainedInspection describe_one(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                 std::uint32_t row) {
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
    return told;
}

}  // namespace

std::vector<ExplainedInspection> explain_inspections(const Plant& plant, const RuleSet& rules,
                                                     const Ranking& ranking, std::uint32_t row) {
    const std::uint32_t segment = ranking.segment_rows[row];
    const UseTeller teller{plant, rules, ranking, row};
    std::vector<ExplainedInspection> all;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        all.push_back(describe_one(plant, rules, ranking, plant.inspection_order[i]));
        teller.tell(all.back());
    }
    return all;
}

}  // namespace lagline
