#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "plant/plant.h"
#include "ranking/matrix.h"
#include "ranking/ranking.h"
#include "report/layout.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The risk matrix for a terminal of 80 columns or more: segments in each cell with the band in
/// words, the limits of the categories, the `worst` worst segments of each occupied cell of the
/// highest band, and the cautions.
[[nodiscard]] std::string matrix_table(const Plant& plant, const RuleSet& rules,
                                       const Ranking& ranking, const RiskMatrix& matrix,
                                       std::size_t worst, const TextStyle& style);

/// The same as CSV, one row a cell, empty cells too.
[[nodiscard]] std::string matrix_csv(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking, const RiskMatrix& matrix);

/// The same as JSON, with the criteria of the site and the `worst` worst segments of every cell.
[[nodiscard]] std::string matrix_json(const Plant& plant, const RuleSet& rules,
                                      const Ranking& ranking, const RiskMatrix& matrix,
                                      std::size_t worst);

/// "Band high: 12 segments are flammable: a release can ...", a line for each hazard in the band.
[[nodiscard]] std::vector<std::string> hazard_lines(const RuleSet& rules, const RiskMatrix& matrix,
                                                    std::size_t band);

}  // namespace lagline
