#pragma once

#include <string>

#include "ruleset/ruleset.h"

namespace lagline {

/// The data dictionary as Markdown: every column of every file that goes in, every column that
/// comes out, every vocabulary; made from the same descriptions that the program runs on.
[[nodiscard]] std::string data_dictionary(const RuleSet& rules);

}  // namespace lagline
