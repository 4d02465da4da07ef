#pragma once

#include <string>

#include "learning/backtest.h"
#include "plant/plant.h"

namespace lagline {

/// A backtest for programs: all of it, as JSON.
[[nodiscard]] std::string backtest_json(const Plant& plant, const RuleSet& rules,
                                        const Backtest& test);

/// Every segment that was looked at, one row a date: what was found, the chance stated, and its
/// score in each order.
[[nodiscard]] std::string backtest_csv(const Plant& plant, const Backtest& test);

/// Gain curves and calibration as one SVG picture.
[[nodiscard]] std::string backtest_svg(const Plant& plant, const Backtest& test);

}  // namespace lagline
