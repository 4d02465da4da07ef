#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "support/small_plant.h"

namespace lagline {

/// plant.yaml of an invented plant that states all it can; one that states nothing; and the first
/// in other weather.
[[nodiscard]] PlantDescription full_description();
[[nodiscard]] PlantDescription bare_description();
[[nodiscard]] PlantDescription full_description(double rain_mm_a_year, double coast_km);

/// A plant small enough to be ranked a thousand times, rich enough to use nearly every rule entry
/// that a ranking can use: of many segments drawn with a fixed seed those are kept that cite an
/// entry for a quantity that no segment before them cites.  Whatever a vocabulary of `rules` holds
/// is drawn, so new words, fields and tables need nothing here.
/// @param drawn  segments to choose from
[[nodiscard]] SmallPlant rich_plant(const RuleSet& rules, PlantDescription description,
                                    std::size_t drawn);

/// Cells that a test may put in place of others.
[[nodiscard]] std::vector<std::string> samples_of(const FieldInfo& field, const RuleSet& rules);

/// The plant with each row that intake refuses put back to what `otherwise` has in its place.
/// @param otherwise  a plant of as many rows, which intake takes
[[nodiscard]] Plant assemble_or_keep(SmallPlant changed, const SmallPlant& otherwise,
                                     const RuleSet& rules);

}  // namespace lagline
