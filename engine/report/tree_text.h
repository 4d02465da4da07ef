#pragma once

#include <span>
#include <string>
#include <string_view>

#include "planning/pre_posterior.h"
#include "report/layout.h"

namespace lagline {

/// The decision tree of an inspection for a terminal: damage states, what the inspection can
/// report, the probabilities after it, the best reaction to each report, losses, value.
/// @param reactions  a name for each reaction of the tree, in its order
/// @param currency   of the plant
[[nodiscard]] std::string tree_text(const InspectionTree& tree,
                                    std::span<const std::string> reactions,
                                    std::string_view currency, const TextStyle& style);

}  // namespace lagline
