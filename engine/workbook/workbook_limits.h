#pragma once

#include <cstddef>
#include <string>

namespace lagline {

/// What is read of a workbook at most.  A line list stays far below; a file made to fill the memory
/// does not get there.
struct WorkbookLimits {
    std::size_t file_bytes = std::size_t{256} << 20;    ///< of the file itself
    std::size_t unpacked_bytes = std::size_t{2} << 30;  ///< of all its parts together
    std::size_t ratio = 200;  ///< unpacked to packed bytes of a part, looked at from...
    std::size_t ratio_from_bytes = std::size_t{16} << 20;  ///< ...this size on
    std::size_t text_bytes = std::size_t{512} << 20;       ///< of the texts kept
    std::size_t parts = 10'000;                            ///< files in the archive
    std::size_t entries = 8'000'000;                       ///< of any list: texts, formats, sheets
    std::size_t depth = 64;                                ///< elements inside each other
    std::size_t token_bytes = std::size_t{1} << 20;        ///< of a tag with its attributes
};

/// Why a workbook, or a part of it, cannot be read.
struct WorkbookFault {
    std::string found;
    std::string expected;
    std::string mend;
};

/// A fault of a file that no spreadsheet would have written.
[[nodiscard]] inline WorkbookFault damaged(std::string found) {
    return {std::move(found), "a workbook as ISO/IEC 29500 has it (.xlsx)",
            "copy the file again, or open it in a spreadsheet and save it as .xlsx"};
}

/// A fault of a file that is too much.
[[nodiscard]] inline WorkbookFault too_much(std::string found, std::string expected) {
    return {std::move(found), std::move(expected),
            "if the file is genuine, remove what is not needed, or export the sheet as CSV"};
}

}  // namespace lagline
