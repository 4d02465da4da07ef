#pragma once

#include <cstdint>

#include "ruleset/table.h"

namespace lagline {

/// A driver as a number: the code of its word, 0 for the severest, with the parts between two words
/// for what lies between them.  Words alone would make a rate jump where a cause grows little by
/// little.
///
/// Code of the word nearest to `level`; of two that are equally near the severer.
[[nodiscard]] std::uint8_t nearest_driver(double level);

/// Value of a table of curves by driver between the curves of the two drivers next to `level`,
/// straight between them; at a level without a part, that of its curve to the last bit (eq. 2).
/// @param at  on the axis of the table, in its base unit
[[nodiscard]] RuleHit find_at_level(const CurveTable& table, double level, double at);

/// Greatest value of such a table at this level, anywhere on its axis.
[[nodiscard]] double peak_at_level(const CurveTable& table, double level);

/// `value` placed from 0 at the start of a band to 1 at its end, straight between, 0 and 1 beyond.
[[nodiscard]] double place_in_band(double value, double start, double end);

}  // namespace lagline
