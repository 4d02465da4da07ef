#include "degradation/coats.h"

namespace lagline {

using S = SegmentField;

FirstCoat first_coat(const Plant& plant, const HistoryRules& rules, std::uint32_t segment,
                     Date until) {
    const Date coated{plant.segments.days(S::coating_date)[segment]};
    const Date service{plant.segments.days(S::in_service)[segment]};
    if (!rules.earlier_coat || coated <= service) return {coated, std::nullopt};
    // A coat that is still to come changes nothing yet.
    return {service, coated <= until ? std::optional{coated} : std::nullopt};
}

WholeCoat present_coat(const Plant& plant, const HistoryRules& rules, std::uint32_t segment,
                       Date at) {
    WholeCoat present;
    for_each_whole_coat(plant, rules, segment, at, at,
                        [&present](const WholeCoat& coat) { present = coat; });
    return present;
}

}  // namespace lagline
