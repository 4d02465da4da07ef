#pragma once

#include <string>

#include "blocks/column.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The formula of a quantity with the rule values in force: `{name}` in it stands for the value of
/// the rule table of that name, an overlay's where there is one.
/// @throws std::out_of_range  when `rules` lack a table that the formula names
[[nodiscard]] std::string formula_in_force(const QuantityInfo& info, const RuleSet& rules);

}  // namespace lagline
