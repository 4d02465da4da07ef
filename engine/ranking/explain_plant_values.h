#pragma once

#include <cstdint>
#include <string_view>

#include "ranking/explain.h"

namespace lagline {

/// Fills in `told` when its key is a value of plant.yaml that a quantity of `segment` is made of:
/// the score, money, weather or a list of units.  Other keys, and what plant.yaml does not say, are
/// left alone.
void tell_plant_value(const Plant& plant, const RuleSet& rules, std::uint32_t segment,
                      ExplainedInput& told);

/// The same for the days of an outage that plant.yaml gives for the unit.
void tell_outage_of_unit(const Plant& plant, std::uint32_t segment, ExplainedInput& told);

/// False for a table of plant.yaml values or of the cost of a leak that did not enter the quantity
/// `of` of a row, since something that was given made it idle; true for all others.
[[nodiscard]] bool table_in_use(std::string_view table, std::string_view of, const Plant& plant,
                                const RuleSet& rules, const Ranking& ranking, std::uint32_t row);

}  // namespace lagline
