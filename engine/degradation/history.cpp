#include "degradation/history.h"

#include <algorithm>
#include <optional>

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

std::optional<double> wall_found(const Plant& plant, std::uint32_t segment, std::uint32_t row) {
    if (plant.inspections.has(I::least_thickness, row)) {
        return plant.inspections.numbers(I::least_thickness)[row];
    }
    if (!plant.inspections.has(I::pit_depth, row)) return std::nullopt;
    const double nominal = plant.segments.numbers(S::nominal_wall)[segment];
    return std::max(0.0, nominal - plant.inspections.numbers(I::pit_depth)[row]);
}

bool found_failed(const Plant& plant, std::uint32_t segment, std::uint32_t row,
                  double failed_grade) {
    if (!plant.inspections.has(I::rust_grade, row)) return false;
    // An inspection before the present coating was applied graded another coating.
    if (plant.inspections.days(I::date)[row] < plant.segments.days(S::coating_date)[segment]) {
        return false;
    }
    return plant.inspections.numbers(I::rust_grade)[row] <= failed_grade;
}

}  // namespace

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
    return {&rules.lookup("reading_accepted"), rules.value("coating_failed_rust_grade").value()};
}

History read_history(const Plant& plant, std::uint32_t segment, Date until,
                     std::span<const std::uint8_t> effectiveness, const HistoryRules& rules,
                     double rate_mm_per_year, const ExpectedExposure& exposure) {
    History history;
    history.wall_mm = plant.segments.numbers(S::nominal_wall)[segment];
    history.wall_known = Date{plant.segments.days(S::in_service)[segment]};
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        const auto wall = wall_found(plant, segment, row);
        const bool accepted = rules.reading_accepted->code(effectiveness[row]) != 0;
        const auto below_expected = [&] {
            return *wall < history.wall_mm - rate_mm_per_year * exposure(history, day);
        };
        if (wall && (accepted || below_expected())) {
            history.wall_mm = *wall;
            history.wall_known = day;
            history.reading = static_cast<std::int32_t>(row);
        }
        if (found_failed(plant, segment, row, rules.failed_rust_grade)) {
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
        } else if (rules.reading_accepted->code(effectiveness[row]) != 0) {
            history = {day, false};
        }
    }
    return history;
}

}  // namespace lagline
