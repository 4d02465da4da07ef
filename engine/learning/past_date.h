#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "learning/backtest.h"
#include "learning/finding.h"

namespace lagline {

/// Ranks a plant at past dates and looks up what was found after them.
class PastDateMaker {
  public:
    PastDateMaker(const PlantSources& sources, const Plant& today, const RuleSet& rules,
                  const BacktestOptions& options);

    [[nodiscard]] PastDate make(Date at) const;

  private:
    const PlantSources& sources_;
    const Plant& today_;
    const RuleSet& rules_;
    const BacktestOptions& options_;
    FindingRules findings_;
    std::vector<std::uint8_t> effectiveness_;  ///< of every inspection on record today
};

}  // namespace lagline
