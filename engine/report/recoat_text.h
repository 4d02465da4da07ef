#pragma once

#include <cstdint>
#include <string>

#include "planning/recoat_sheet.h"
#include "plant/plant.h"
#include "report/layout.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Letters of the months of a set, a dot for each of the others: "...AMJJAS...".
[[nodiscard]] std::string months_text(std::uint16_t months);

/// The recoat specification of a segment for a terminal: the systems in order with coats, months,
/// life and cost, those refused with the reason, the take-off and the cautions.
[[nodiscard]] std::string recoat_text(const Plant& plant, const RuleSet& rules,
                                      const RecoatSheet& sheet, const TextStyle& style);

/// The same for programs.
[[nodiscard]] std::string recoat_json(const Plant& plant, const RuleSet& rules,
                                      const RecoatSheet& sheet);

}  // namespace lagline
