#include "degradation/history.h"

#include <algorithm>
#include <optional>

#include "degradation/coating.h"

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

// Wall that the method expects on `day`, from the wall last known (eq. 3, 6 and 7).
double expected_wall(const History& known, Date coated, Date day, const ExpectedLoss& loss) {
    const double since = years_between(known.wall_known, day);
    const double credit =
        coating_credit_years(loss.coating_life_years, std::max(0.0, years_between(coated, day)),
                             since, known.failed_at != History::nothing);
    return known.wall_mm - loss.rate_mm_per_year * std::max(0.0, since - credit);
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
                     std::span<const std::uint8_t> effectiveness, const ExpectedLoss& loss,
                     const HistoryRules& rules) {
    History history;
    const Date coated{plant.segments.days(S::coating_date)[segment]};
    history.wall_mm = plant.segments.numbers(S::nominal_wall)[segment];
    history.wall_known = Date{plant.segments.days(S::in_service)[segment]};
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        const auto wall = wall_found(plant, segment, row);
        const bool accepted = rules.reading_accepted->code(effectiveness[row]) != 0;
        if (wall && (accepted || *wall < expected_wall(history, coated, day, loss))) {
            history.wall_mm = *wall;
            history.wall_known = day;
            history.reading = row;
        }
        if (found_failed(plant, segment, row, rules.failed_rust_grade)) history.failed_at = row;
    }
    return history;
}

}  // namespace lagline
