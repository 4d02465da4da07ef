#pragma once

#include <cstdint>
#include <functional>
#include <string_view>
#include <vector>

#include "ranking/explain.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What the lookups in a table were asked with for one row: every word and every place on the axis,
/// since a quantity may be a sum over temperatures or damage states.  Empty where the table was not
/// asked.
struct TraceContext {
    /// Codes of the words of a vocabulary.
    std::function<std::vector<std::uint8_t>(std::string_view vocabulary)> codes;
    /// Arguments of an axis, in the axis' base unit.
    std::function<std::vector<double>(std::string_view axis)> numbers;
};

/// The entries of table `name` that made a quantity, each once, found by the same lookups that made
/// it.
[[nodiscard]] std::vector<ExplainedRule> trace_rules(const RuleSet& rules, std::string_view name,
                                                     const TraceContext& context);

}  // namespace lagline
