#pragma once

#include <string>

#include "plant/plant.h"
#include "ranking/matrix.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking as one SVG drawing that needs nothing else: probability against cost of a leak, both
/// logarithmic, the cells of the risk matrix behind, lines of equal risk, the site's criteria, a
/// legend and the cautions.  Shape and colour of a mark, and words, say the band.
[[nodiscard]] std::string matrix_svg(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking, const RiskMatrix& matrix);

}  // namespace lagline
