#pragma once

#include <filesystem>

#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"

namespace lagline {

/// Reads columns.yaml; everything wrong goes to `report`.
[[nodiscard]] ColumnMaps read_columns_yaml(const std::filesystem::path& path, Report& report);

}  // namespace lagline
