#pragma once

#include <string>
#include <vector>

#include "consequence/consequence.h"
#include "intake/gaps.h"
#include "plant/plant.h"

namespace lagline {

/// The register of assumptions as CSV: column, state, segments, taken, reason, basis; a row for
/// each gap, then one for each unit whose lost margin is that of the rules.  Names no file, so that
/// the same plant in another folder gives the same bytes.
[[nodiscard]] std::string assumptions_csv(const std::vector<Gap>& gaps,
                                          const std::vector<MarginGap>& margins);

/// The overrides in force as CSV: segment, quantity, value, replaced, reason, who, when, until.
[[nodiscard]] std::string overrides_csv(const Plant& plant);

}  // namespace lagline
