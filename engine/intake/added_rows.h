#pragma once

#include <optional>
#include <string>

#include "diagnostics/diagnostic.h"
#include "intake/sheet_reader.h"
#include "plant/sheet.h"

namespace lagline {

/// The rows of `sheet` as text to be put behind `existing`: in its columns, their order and their
/// units, with its line ends; without `existing`, a heading as well.  What `existing` has no column
/// for is reported, and nothing comes back.
/// @param sheet     every row read without an error, as `context` reads it
/// @param existing  read without an error by the same context
[[nodiscard]] std::optional<std::string> rows_to_add(const Sheet& sheet,
                                                     const std::optional<SourceText>& existing,
                                                     const SheetContext& context, Report& report);

}  // namespace lagline
