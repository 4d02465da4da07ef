#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/date.h"
#include "report/output_table.h"

namespace lagline {

/// A table that becomes a sheet.
struct OutputSheet {
    std::string name;
    const OutputTable* table = nullptr;
};

/// What a workbook says of itself.
struct WorkbookTitle {
    std::string title;
    std::string subject;
    Date made;  ///< stands as its time of creation: the clock would make every run another file
};

/// The bytes of a workbook, or why there are none.
struct [[nodiscard]] MadeWorkbook {
    std::string bytes;
    std::string problem;
};

/// Makes a workbook (.xlsx, ISO/IEC 29500) of tables, one a sheet: the heading frozen, a filter on
/// every column, numbers with a format by kind and unit and with 16 significant digits, texts as
/// texts whatever they start with, never as formulas.  The same tables give the same bytes.  The
/// workbook has been read again before it is given back: a full disk cannot leave half of one.
MadeWorkbook make_workbook(const std::vector<OutputSheet>& sheets, const WorkbookTitle& title);

/// How numbers of a column are shown, as a format code.
[[nodiscard]] std::string_view number_format_of(const OutputColumn& column);

}  // namespace lagline
