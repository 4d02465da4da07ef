#include "degradation/history.h"

#include <array>

#include "degradation/coats.h"

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

// An accepted reading says how thin the wall is at its thinnest, also where it contradicts the one
// before, which is flagged; one that is not accepted can only be thinner.
void keep_thinnest(const Reading& reading, History& history) {
    const bool stands = reading.accepted;
    const bool thinner =
        history.thinnest == History::nothing || reading.wall_mm < history.thinnest_mm;
    if (!stands && !thinner) return;
    history.thinnest = static_cast<std::int32_t>(reading.row);
    history.thinnest_mm = reading.wall_mm;
}

constexpr std::array crack_needs{
    TableNeed{.name = "crack_inspection_effectiveness",
              .kind = TableKind::bands,
              .by = "technique",
              .axis = "coverage",
              .gives = "effectiveness"},
    TableNeed{.name = "crack_inspection_accepted",
              .kind = TableKind::lookup,
              .by = "effectiveness",
              .gives = "yes_no"},
    TableNeed{.name = "crack_finding_cleared",
              .kind = TableKind::lookup,
              .by = "effectiveness",
              .gives = "yes_no"},
};

std::vector<std::uint8_t> effectiveness_by(const BandTable& table, const Plant& plant) {
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

// What the cell `cracks_found` of an inspection says.
enum class CracksSaid : std::uint8_t { nothing, no, yes };

CracksSaid cracks_said(const Plant& plant, std::uint32_t row) {
    if (!plant.inspections.has(I::cracks_found, row)) return CracksSaid::nothing;
    return plant.inspections.codes(I::cracks_found)[row] != 0 ? CracksSaid::yes : CracksSaid::no;
}

}  // namespace

std::vector<std::uint8_t> inspection_effectiveness(const Plant& plant, const RuleSet& rules) {
    return effectiveness_by(rules.band("inspection_effectiveness"), plant);
}

std::vector<std::uint8_t> crack_inspection_effectiveness(const Plant& plant, const RuleSet& rules) {
    return effectiveness_by(rules.band("crack_inspection_effectiveness"), plant);
}

HistoryRules history_rules(const RuleSet& rules) {
    return {reading_rules(rules), rules.value("coating_failed_rust_grade").value(),
            rules.value("whole_coat_share").value(),
            rules.value("earlier_coat").word() == "like_present"};
}

History read_history(const Plant& plant, std::uint32_t segment, Date until,
                     std::span<const std::uint8_t> effectiveness, const HistoryRules& rules,
                     double rate_mm_per_year, const ExpectedExposure& exposure,
                     std::vector<Reading>& readings) {
    History history;
    history.wall_mm = plant.segments.numbers(S::nominal_wall)[segment];
    history.wall_known = Date{plant.segments.days(S::in_service)[segment]};
    history.accepted_mm = history.wall_mm;
    history.accepted_known = history.wall_known;
    const Date service = history.wall_known;
    read_readings(plant, segment, until, effectiveness, rules.readings, readings);
    const auto take = [&](Reading& reading) {
        if (reading.conflicts) history.conflict = static_cast<std::int32_t>(reading.row);
        if (reading.day >= service) keep_thinnest(reading, history);
        const auto below_expected = [&] {
            return reading.wall_mm <
                   history.wall_mm - rate_mm_per_year * exposure(history, reading.day);
        };
        reading.counts = !reading.set_aside && (reading.accepted || below_expected());
        if (!reading.counts) return;
        history.wall_mm = reading.wall_mm;
        history.wall_known = reading.day;
        history.reading = static_cast<std::int32_t>(reading.row);
        if (!reading.accepted) return;
        history.accepted_mm = reading.wall_mm;
        history.accepted_known = reading.day;
    };
    for (Reading& reading : readings) take(reading);
    history.failed_at = present_coat(plant, rules, segment, until).failed_at;
    return history;
}

CrackRules crack_rules(const RuleSet& rules) {
    return {&rules.lookup("crack_inspection_accepted"), &rules.lookup("crack_finding_cleared")};
}

std::span<const TableNeed> crack_history_needs() { return crack_needs; }

CrackHistory read_crack_history(const Plant& plant, std::uint32_t segment, Date until,
                                std::span<const std::uint8_t> effectiveness,
                                const CrackRules& rules) {
    const Date service{plant.segments.days(S::in_service)[segment]};
    CrackHistory history{.clear = service, .credit_begin = plant.inspection_begin[segment]};
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        if (day < service) {
            history.credit_begin = i + 1;
            continue;
        }
        const CracksSaid said = cracks_said(plant, row);
        const std::uint8_t how_well = effectiveness[row];
        if (said == CracksSaid::yes) {
            history = {.clear = service,
                       .found = true,
                       .credit_begin = plant.inspection_begin[segment + 1],
                       .found_row = static_cast<std::int32_t>(row)};
            continue;
        }
        const bool clears = said == CracksSaid::no && rules.clears->code(how_well) != 0;
        if (history.found && !clears) continue;
        if (history.found) {
            history.found = false;
            history.found_row = History::nothing;
            history.credit_begin = i;
        }
        if (rules.accepted->code(how_well) == 0) continue;
        history.clear = day;
        history.cleared_row = static_cast<std::int32_t>(row);
    }
    return history;
}

}  // namespace lagline
