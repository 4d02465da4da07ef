#pragma once

#include <filesystem>

#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Reads columns.yaml; everything wrong goes to `report`: unknown files and columns, a heading that
/// is mapped to none of ours, a word that is mapped to none of `rules`.
[[nodiscard]] ColumnMaps read_columns_yaml(const std::filesystem::path& path, const RuleSet& rules,
                                           Report& report);

}  // namespace lagline
