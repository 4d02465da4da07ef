#pragma once

#include <string>
#include <string_view>

#include "cli/command_files.h"
#include "report/atomic_file.h"
#include "report/layout.h"
#include "report/xlsx/xlsx_writer.h"

namespace lagline::cli {

/// How text on standard output should look: width of the terminal (80 to 120, 100 when it is not a
/// terminal), colours only on a terminal and without NO_COLOR.
[[nodiscard]] TextStyle terminal_style();
/// The same, or plain text of `width` columns where the result goes to a file.
[[nodiscard]] TextStyle style_for(const OutFile& out, std::size_t width);
/// The same for standard error.
[[nodiscard]] TextStyle error_style();

/// Says on standard error why `out` must not be written, if so.
/// @return an ExitCode
[[nodiscard]] int refuse_target(const OutFile& out);

/// Writes a result to the file `out`, or to standard output when there is none.  The file is looked
/// at once more: it may have become one that is not to be written.
/// @return an ExitCode
[[nodiscard]] int deliver(std::string_view text, const OutFile& out = {});

/// The same for a text that is given in pieces.
[[nodiscard]] int deliver(const GiveText& give, const OutFile& out);

/// The same for a workbook, which goes to a file.
[[nodiscard]] int deliver(const MadeWorkbook& workbook, const OutFile& out);

/// The word of --format for a workbook.
inline constexpr std::string_view workbook_format = "xlsx";
/// Says so when a workbook is asked for without a file: it is not for a terminal.
/// @return an ExitCode
[[nodiscard]] int refuse_without_out(std::string_view format, const OutFile& out);

}  // namespace lagline::cli
