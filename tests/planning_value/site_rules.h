#pragma once

#include <string>

#include "ruleset/ruleset.h"

namespace lagline {

/// The shipped set `published` with a site's changes on top.
/// @param changes  lines of the list `changes:` of an overlay
[[nodiscard]] RuleSet rules_with(const std::string& changes);

}  // namespace lagline
