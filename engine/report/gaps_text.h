#pragma once

#include <span>
#include <string>
#include <vector>

#include "consequence/consequence.h"
#include "intake/gaps.h"
#include "plant/plant.h"
#include "report/engineer_text.h"
#include "report/layout.h"

namespace lagline {

/// What a plant folder holds, in a few lines: segments, lines, units, inspections, windows.
[[nodiscard]] std::string plant_summary(const Plant& plant, const TextStyle& style);

/// The register of assumptions for a terminal: which column is empty in how many segments, and what
/// is taken instead, with the reason.
[[nodiscard]] std::string gaps_text(const std::vector<Gap>& gaps, std::size_t segments,
                                    const TextStyle& style);

/// Units whose lost margin is the one of the rules, and which that is; empty without any.
[[nodiscard]] std::string margin_gaps_text(const std::vector<MarginGap>& gaps, const RuleSet& rules,
                                           const TextStyle& style);

/// A check as a JSON document: {report: {...}, segments, needs_engineer_now: [...], gaps: [...],
/// units_without_lost_margin: [...]}.
[[nodiscard]] std::string check_json(const Report& report, const std::vector<Gap>& gaps,
                                     std::size_t segments,
                                     const std::vector<MarginGap>& margins = {},
                                     std::span<const EngineerText> engineer = {});

}  // namespace lagline
