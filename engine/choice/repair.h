#pragma once

#include <span>
#include <vector>

#include "choice/priced_components.h"

namespace lagline {

/// Makes a good feasible choice out of the components' choice at `prices`: first whole components
/// and then single units move where a unit of overrun is cheapest to take off, then both move where
/// money is saved within what is left over.
/// @param start  a complete choice; relaxed bundles may have fallen apart
/// @return a choice that holds its bundles; feasible unless none was found
/// @source docs/choice.md, "A feasible choice"
[[nodiscard]] std::vector<StrategyIndex> repaired(PricedComponents& components,
                                                  std::span<const double> prices,
                                                  std::vector<StrategyIndex> start);

}  // namespace lagline
