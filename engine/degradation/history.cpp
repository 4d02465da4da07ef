#include "degradation/history.h"

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

}  // namespace

bool found_failed(const Plant& plant, std::uint32_t segment, std::uint32_t row,
                  double failed_grade) {
    if (!plant.inspections.has(I::rust_grade, row)) return false;
    // An inspection before the present coating was applied graded another coating.
    if (plant.inspections.days(I::date)[row] < plant.segments.days(S::coating_date)[segment]) {
        return false;
    }
    return plant.inspections.numbers(I::rust_grade)[row] <= failed_grade;
}

std::vector<std::uint8_t> inspection_effectiveness(const Plant& plant, const RuleSet& rules) {
    const BandTable& table = rules.band("inspection_effectiveness");
    const Unit& number = base_unit(Dimension::number);
    const Unit percent = parse_unit("%", Dimension::number).value();
    std::vector<std::uint8_t> effectiveness(plant.inspections.rows());
    const auto technique = plant.inspections.codes(I::technique);
    const auto coverage = plant.inspections.numbers(I::coverage);
    for (std::size_t row = 0; row < effectiveness.size(); ++row) {
        const double share = convert(coverage[row], percent, number);
        effectiveness[row] = table.find(technique[row], share).code;
    }
    return effectiveness;
}

HistoryRules history_rules(const RuleSet& rules) {
    return {reading_rules(rules), rules.value("coating_failed_rust_grade").value()};
}

History read_history(const Plant& plant, std::uint32_t segment, Date until,
                     std::span<const std::uint8_t> effectiveness, const HistoryRules& rules,
                     double rate_mm_per_year, const ExpectedExposure& exposure,
                     std::vector<Reading>& readings) {
    History history;
    history.wall_mm = plant.segments.numbers(S::nominal_wall)[segment];
    history.wall_known = Date{plant.segments.days(S::in_service)[segment]};
    read_readings(plant, segment, until, effectiveness, rules.readings, readings);
    const auto take = [&](Reading& reading) {
        if (reading.conflicts) history.conflict = static_cast<std::int32_t>(reading.row);
        const auto below_expected = [&] {
            return reading.wall_mm <
                   history.wall_mm - rate_mm_per_year * exposure(history, reading.day);
        };
        reading.counts = !reading.set_aside && (reading.accepted || below_expected());
        if (!reading.counts) return;
        history.wall_mm = reading.wall_mm;
        history.wall_known = reading.day;
        history.reading = static_cast<std::int32_t>(reading.row);
    };
    std::size_t next = 0;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        if (next < readings.size() && readings[next].row == row) take(readings[next++]);
        if (found_failed(plant, segment, row, rules.failed_rust_grade)) {
            if (history.failed_at == History::nothing) history.failed_since = day;
            history.failed_at = static_cast<std::int32_t>(row);
        }
    }
    return history;
}

CrackHistory read_crack_history(const Plant& plant, std::uint32_t segment, Date until,
                                std::span<const std::uint8_t> effectiveness,
                                const HistoryRules& rules) {
    CrackHistory history{Date{plant.segments.days(S::in_service)[segment]}, false};
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        const bool cracks = plant.inspections.has(I::cracks_found, row) &&
                            plant.inspections.codes(I::cracks_found)[row] != 0;
        if (cracks) {
            history.found = true;
        } else if (rules.readings.accepted->code(effectiveness[row]) != 0) {
            history = {day, false};
        }
    }
    return history;
}

}  // namespace lagline
