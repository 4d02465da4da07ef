#pragma once

#include <map>
#include <string>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "plant/sheet.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The money of the plant: amounts of other currencies are turned into it.
struct PlantMoney {
    std::string currency = "USD";
    std::map<std::string, double> exchange;  ///< price of one unit of a currency in plant currency
    bool known = true;  ///< false: plant.yaml did not say, so every currency is let pass
};

struct SheetContext {
    const RuleSet& rules;
    const ColumnMap& map;
    const PlantMoney& money;
    WorkPlan plan;
    bool may_have_no_rows = false;  ///< a part of segments.csv may be empty
};

/// Reads a CSV text into `sheet` (made with its field list): headings, units, every cell; absent
/// cells stay absent.  Everything wrong goes to `report`; cells that cannot be read stay absent.
/// Rows that are empty throughout are left out.  Work is spread over threads; the result and the
/// order of the report do not depend on it.
void read_sheet(Sheet& sheet, SourceText source, const SheetContext& context, Report& report);

}  // namespace lagline
