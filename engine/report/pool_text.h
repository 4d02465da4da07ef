#pragma once

#include <string>

#include "learning/rate_factors.h"
#include "plant/plant.h"
#include "report/layout.h"

namespace lagline {

/// Name of the site factor that holds factors by a column: "learned_by_unit".
[[nodiscard]] std::string learned_name(const RateFactors& factors);

/// Says how much hangs on the losses that could not be told; empty where most were told.
[[nodiscard]] std::string untold_note(const RateFactors& factors);

/// Which end of a group's interval an overlay takes.
enum class TakenFactor : std::uint8_t { middle, upper };

/// Rate factors for a terminal.
[[nodiscard]] std::string pool_text(const Plant& plant, const RateFactors& factors,
                                    const TextStyle& style);

/// One row a group.
[[nodiscard]] std::string pool_csv(const RateFactors& factors);

/// All of it, the segments' ratios too.
[[nodiscard]] std::string pool_json(const Plant& plant, const RateFactors& factors);

/// A file of a site's overlay with the factors as a site factor; comments say how they were made.
/// It acts only where somebody puts it into PLANT/rules.
[[nodiscard]] std::string pool_overlay(const Plant& plant, const RuleSet& rules,
                                       const RateFactors& factors, TakenFactor taken);

}  // namespace lagline
