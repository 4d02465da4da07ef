#pragma once

#include <string>
#include <vector>

#include "ranking/rule_checks.h"
#include "report/layout.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Every table of a rule set with kind, unit, entries, basis and source; then the defaults and what
/// overlays changed.
[[nodiscard]] std::string rules_list(const RuleSet& rules, const TextStyle& style);

/// Every entry of one table; empty when there is no such table.
[[nodiscard]] std::string rules_table(const RuleSet& rules, std::string_view table,
                                      const TextStyle& style);

/// The documents that values come from, with the number of entries each gave.
[[nodiscard]] std::string rules_sources(const RuleSet& rules, const TextStyle& style);

/// The entries whose basis is `recalled`: to be compared with a licensed copy.
[[nodiscard]] std::string rules_recalled(const RuleSet& rules, const TextStyle& style);

/// The checks of the rule set, run: one line each, every difference in full.
[[nodiscard]] std::string rules_checked(const std::vector<CheckOutcome>& outcomes,
                                        const TextStyle& style);

}  // namespace lagline
