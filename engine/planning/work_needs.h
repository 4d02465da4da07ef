#pragma once

#include <vector>

#include "ruleset/ruleset.h"

namespace lagline {

/// Every rule table that the planning of work on a segment reads beyond those of the ranking:
/// recoat specification, surfaces, take-off, cautions.
[[nodiscard]] std::vector<TableNeed> work_needs();

}  // namespace lagline
