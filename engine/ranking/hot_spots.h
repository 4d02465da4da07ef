#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A place on a segment to look at first, and why.
struct HotSpot {
    std::string place;
    std::string reason;  ///< the attribute of the segment that speaks for it
};

/// The likely first places of a segment, from its attributes, the most telling first; the low
/// points of the run come last, since they hold for every segment.
/// @source API RP 583, typical locations susceptible to corrosion under insulation (recalled)
[[nodiscard]] std::vector<HotSpot> find_hot_spots(const Plant& plant, const RuleSet& rules,
                                                  const Ranking& ranking, std::uint32_t row);

}  // namespace lagline
