#include "exposure/findings.h"

#include <algorithm>
#include <limits>

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr Date ever{std::numeric_limits<std::int32_t>::min()};

}  // namespace

std::optional<std::uint32_t> last_saying(const Plant& plant, std::uint32_t segment,
                                         InspectionField field, Date from, Date at) {
    std::optional<std::uint32_t> last;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > at) break;
        if (day >= from && plant.inspections.has(field, row)) last = row;
    }
    return last;
}

std::optional<std::uint32_t> wetness_finding(const Plant& plant, std::uint32_t segment, Date at) {
    return last_saying(plant, segment, I::insulation_wet, ever, at);
}

bool found_wet(const Plant& plant, std::uint32_t segment, Date at) {
    const auto row = wetness_finding(plant, segment, at);
    return row && plant.inspections.codes(I::insulation_wet)[*row] != 0;
}

std::optional<std::uint32_t> jacket_finding(const Plant& plant, std::uint32_t segment, Date at) {
    const bool dated = plant.segments.has(S::insulation_installed, segment);
    const Date from = dated ? Date{plant.segments.days(S::insulation_installed)[segment]} : ever;
    return last_saying(plant, segment, I::jacket_damage, from, at);
}

std::uint8_t condition_with_findings(const Plant& plant, const LookupTable& of_damage,
                                     std::uint32_t segment, Date at) {
    const std::uint8_t recorded = plant.segments.codes(S::insulation_condition)[segment];
    const auto row = jacket_finding(plant, segment, at);
    if (!row) return recorded;
    return std::min(recorded, of_damage.code(plant.inspections.codes(I::jacket_damage)[*row]));
}

}  // namespace lagline
