#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "workbook/workbook.h"

namespace lagline {

/// Parts of an archive by name.
using Parts = std::map<std::string, std::string>;

/// A workbook with one sheet "pipes": what stands inside <sheetData>, and behind it.
[[nodiscard]] Parts workbook_parts(std::string_view sheet_data, std::string_view behind = "");

/// The parts as an archive, packed.  @throws std::runtime_error when it cannot be made
[[nodiscard]] std::string zipped(const Parts& parts);

/// What came of reading the first sheet: every cell as "B2=text", and what was found.
struct ReadSheet {
    bool opened = false;
    bool table = false;
    std::vector<std::string> cells;
    Report report;
};
[[nodiscard]] ReadSheet read_first(std::string bytes, const WorkbookLimits& limits = {});
/// The same for the cells of workbook_parts().
[[nodiscard]] ReadSheet read_cells(std::string_view sheet_data, std::string_view behind = "");

/// The only diagnostic as "code place: found"; throws std::runtime_error when there is not one.
[[nodiscard]] std::string only(const Report& report);

}  // namespace lagline
