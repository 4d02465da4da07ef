#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "intake/cell_cache.h"
#include "intake/heading.h"
#include "intake/sheet_reader.h"
#include "plant/sheet.h"

namespace lagline {

/// Numbers of one column that have no unit though they need one.
struct BareNumbers {
    std::size_t count = 0;
    std::uint32_t first_line = 0;
    void add(const BareNumbers& other);
};

/// What comes of a block of rows, besides the cells.
struct RowFindings {
    explicit RowFindings(std::size_t columns) : bare(columns) {}
    Report report;
    std::vector<BareNumbers> bare;  ///< by column of the file
    std::vector<std::shared_ptr<const std::string>> arena;
};

/// Reads the rows [begin, end) into `sheet`; what it finds goes to `found`.  Blocks of rows may be
/// read at the same time.
/// @param cache       of as many columns as there are plans; nobody else uses it meanwhile
/// @param only_count  findings are counted without place and excerpt
void read_block(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
                RowRange range, CellCache& cache, bool only_count, RowFindings& found);

}  // namespace lagline
