#pragma once

#include <optional>
#include <string>

#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"

namespace lagline {

/// All that an open descriptor gives, a pipe or a file, with the checks of source_from_text(); or
/// nothing with the reason in `report`.  It is read from where it stands and stays open.
/// @param shown  name used in messages
[[nodiscard]] std::optional<SourceText> read_descriptor(int fd, const std::string& shown,
                                                        Report& report);

}  // namespace lagline
