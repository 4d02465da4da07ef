#pragma once

#include <string>
#include <vector>

#include "learning/backtest.h"
#include "plant/plant.h"
#include "report/layout.h"

namespace lagline {

/// The order that speaks for Lagline in plots: by the chance of a finding, for cracking by the
/// probability of a leak.
[[nodiscard]] OpeningOrder plotted_order(const Backtest& test);

/// What a reader must know to read a backtest, a sentence or two each: how dates were chosen, what
/// a finding is, what the comparison cannot tell.
[[nodiscard]] std::vector<std::string> backtest_notes(const Backtest& test, const RuleSet& rules);

/// A backtest for a terminal: dates, orders, gain curves, calibration, notes.
[[nodiscard]] std::string backtest_text(const Plant& plant, const RuleSet& rules,
                                        const Backtest& test, const TextStyle& style);

}  // namespace lagline
