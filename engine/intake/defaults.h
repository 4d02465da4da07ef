#pragma once

#include <map>
#include <string>

#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "intake/plant_yaml.h"
#include "intake/sheet_reader.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Fills the empty cells of segments.csv: derived from other columns of the row, else the default
/// of plant.yaml, else that of the rule set (its `defaults`, or a lookup table by material that is
/// named like the column).  Each filled cell says so in its state.  A default that cannot be read
/// as a cell of its column is reported where it stands.
/// @param words  words of the site that stand for ours, as in segments.csv
void fill_defaults(Plant& plant, const std::map<std::string, PlantDefault, std::less<>>& defaults,
                   const RuleSet& rules, const PlantMoney& money, const ColumnMap& words,
                   Report& report);

}  // namespace lagline
