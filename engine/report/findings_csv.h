#pragma once

#include <span>
#include <string>
#include <string_view>

#include "report/scope_sheets.h"

namespace lagline {

/// True where a row of inspections.csv comes of the work.  A run that is replaced has none: what is
/// known of it does not hold for the new pipe.
[[nodiscard]] inline bool is_to_be_recorded(const ScopeSegment& told) { return told.inspects; }

/// The technique that the work implies, a word of `technique`; empty where it is to be chosen.
[[nodiscard]] std::string_view technique_of(const RuleSet& rules, const ScopeSegment& told);

/// The sheet for the findings of a plan: the columns of inspections.csv, a row for each segment
/// that is looked at, with the segment and the technique filled in.  `lagline record` reads it
/// back.
[[nodiscard]] std::string findings_csv(const Plant& plant, const RuleSet& rules,
                                       std::span<const ScopeSheet> sheets);

}  // namespace lagline
