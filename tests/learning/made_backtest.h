#pragma once

#include <cstdint>
#include <string>

#include "intake/load_plant.h"
#include "learning/backtest.h"
#include "synthesis/synthesis.h"

namespace lagline {

/// The files of an invented plant, as read from a folder.
[[nodiscard]] PlantSources sources_of(const SyntheticPlant& plant);

/// A plant read at a day.  @throws std::runtime_error  with the whole report, when there is an
/// error
[[nodiscard]] Plant read_at(const PlantSources& sources, const RuleSet& rules, Date at);

/// Backtest of the invented plant of a seed, at the dates that it chooses for itself.
/// @param rules  a shipped set
[[nodiscard]] Backtest backtest_of_seed(std::uint64_t seed, std::size_t segments,
                                        const std::string& rules);

}  // namespace lagline
