#pragma once

#include "ruleset/table_head.h"

namespace lagline {

/// Takes the range of the numbers of a table: that of the table it replaces, the one it states
/// under `range`, or else all that its dimension allows.
void read_range(TableReading& reading);

/// False, and reported at `node`, where `value` (base unit) lies outside the range of the table.
bool check_range(const YamlNode& node, double value, const TableInfo& info, const Scope& scope);

}  // namespace lagline
