#pragma once

#include <array>

#include "likelihood/likelihood.h"

namespace lagline {

/// What the method says of a segment's wall on one day.
struct ExpectedWall {
    double known_mm = 0.0;       ///< last known
    double lost_since_mm = 0.0;  ///< expected loss since then, in the first damage state
    std::array<double, damage_states> state_probability{};
};

/// Probability that the wall is at or below `limit_mm` (eq. 73): over the damage states, each with
/// its multiple of the expected loss, scattered normally with the coefficient of variation of
/// thinning.
/// @param state_factor  multiple of the expected loss in each damage state
/// @param variation     coefficient of variation of the loss
[[nodiscard]] double probability_below(const ExpectedWall& wall, double limit_mm,
                                       const std::array<double, damage_states>& state_factor,
                                       double variation);

}  // namespace lagline
