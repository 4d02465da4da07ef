#pragma once

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "intake/yaml_map.h"
#include "plant/plant.h"

namespace lagline {

/// {value: NUMBER, per: WORD} in the plant's currency, the word one of `bases`; nothing when it is
/// anything else, which has been reported.
[[nodiscard]] std::optional<UnitCost> read_amount(YamlMapReader& maps, const YamlNode& node,
                                                  const std::string& chain,
                                                  std::span<const std::string_view> bases);

/// `unit_costs` and `crew_rates`: amounts by name.
void read_costs(YamlMapReader& maps, const YamlNode& node, const std::string& chain,
                std::map<std::string, UnitCost>& into);

/// `criteria`: what could not be read is left out, and reported.
[[nodiscard]] RiskCriteria read_criteria(YamlMapReader& maps, const YamlNode& node);

/// `outage`, by process unit; the same.
[[nodiscard]] std::map<std::string, UnitOutage, std::less<>> read_outages(YamlMapReader& maps,
                                                                          const YamlNode& node);

/// Warns of units under `outage` that no segment belongs to.
void check_outage_units(const Plant& plant, Report& report);

}  // namespace lagline
