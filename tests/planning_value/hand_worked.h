#pragma once

#include <array>
#include <string>

#include "planning/pre_posterior.h"

namespace lagline {

/// The tree of docs/method.md, section 22, "A tree worked by hand": effectiveness B (recalled, API
/// RP 581, Part 2, Table 4.6), prior of low confidence (Table 4.5), costs and losses invented.
[[nodiscard]] inline InspectionTree hand_worked_tree() {
    const std::array reactions{PricedReaction{0.0, {10'000.0, 60'000.0, 300'000.0}},
                               PricedReaction{40'000.0, {8'000.0, 25'000.0, 120'000.0}},
                               PricedReaction{90'000.0, {2'000.0, 2'000.0, 2'000.0}}};
    const OutcomeTable told{{{0.7, 0.2, 0.1}, {0.2, 0.7, 0.1}, {0.1, 0.2, 0.7}}};
    return inspection_tree({0.5, 0.3, 0.2}, told, reactions);
}

[[nodiscard]] inline std::array<std::string, 3> hand_worked_names() {
    return {"leave", "recoat", "replace"};
}

}  // namespace lagline
