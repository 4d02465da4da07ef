#include "learning/finding.h"

#include <algorithm>
#include <array>

#include "degradation/readings.h"
#include "learning/as_known.h"

namespace lagline {
namespace {

using I = InspectionField;

constexpr std::array needs{
    TableNeed{.name = "significant_wall_loss", .kind = TableKind::value},
    TableNeed{.name = "least_loss_told", .kind = TableKind::value, .dimension = Dimension::length},
    TableNeed{
        .name = "least_loss_expected", .kind = TableKind::value, .dimension = Dimension::length},
};

std::optional<bool> tells(const Plant& plant, const Suspect& suspect, std::uint32_t row) {
    if (suspect.cracking) {
        if (!plant.inspections.has(I::cracks_found, row)) return std::nullopt;
        return plant.inspections.codes(I::cracks_found)[row] != 0;
    }
    const auto wall = wall_read_mm(plant, suspect.segment, row);
    if (!wall) return std::nullopt;
    return *wall <= suspect.finding_wall_mm;
}

}  // namespace

FindingRules finding_rules(const RuleSet& rules) {
    return {&rules.lookup("reading_accepted"), &rules.lookup("crack_inspection_accepted"),
            rules.value("significant_wall_loss").value()};
}

std::span<const TableNeed> learning_needs() { return needs; }

double finding_wall_mm(const FindingRules& rules, double nominal_mm, double minimum_mm) {
    return std::max((1.0 - rules.significant_loss) * nominal_mm, minimum_mm);  // eq. 70
}

std::optional<Outcome> first_outcome(const Plant& plant, const FindingRules& rules,
                                     std::span<const std::uint8_t> effectiveness,
                                     const Suspect& suspect, Date after, Date until) {
    const auto& dates = plant.inspections.column(I::date);
    const LookupTable& accepted =
        suspect.cracking ? *rules.crack_accepted : *rules.reading_accepted;
    for (std::uint32_t i = plant.inspection_begin[suspect.segment];
         i < plant.inspection_begin[suspect.segment + 1]; ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{dates.days[row]};
        if (day <= after || !is_past(dates, row, until)) continue;
        if (accepted.code(effectiveness[row]) == 0) continue;
        const auto found = tells(plant, suspect, row);
        if (found) return Outcome{day, row, *found};
    }
    return std::nullopt;
}

}  // namespace lagline
