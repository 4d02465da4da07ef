#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

#include "ranking/explain.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What a table lookup needs to know of one row.
struct TraceContext {
    /// Code of the word that the quantity's inputs hold of a vocabulary; nothing when they hold
    /// none.
    std::function<std::optional<std::uint8_t>(std::string_view vocabulary)> code;
    /// Argument of an axis, in the axis' base unit.
    std::function<std::optional<double>(std::string_view axis)> number;
    std::optional<std::uint8_t> state;        ///< damage state the quantity belongs to
    std::vector<std::uint8_t> effectiveness;  ///< categories that inspections of the row have
};

/// The entries of table `name` that made a quantity, found by the same lookups that made it.
[[nodiscard]] std::vector<ExplainedRule> trace_rules(const RuleSet& rules, std::string_view name,
                                                     const TraceContext& context);

}  // namespace lagline
