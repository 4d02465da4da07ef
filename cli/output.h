#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "report/layout.h"

namespace lagline::cli {

/// How text on standard output should look: width of the terminal (80 to 120, 100 when it is not a
/// terminal), colours only on a terminal and without NO_COLOR.
[[nodiscard]] TextStyle terminal_style();
/// The same, or plain text of `width` columns where the result goes to a file.
[[nodiscard]] TextStyle style_for(const std::optional<std::string>& out, std::size_t width);
/// The same for standard error.
[[nodiscard]] TextStyle error_style();

/// Writes a result to the file `out`, or to standard output when there is none.
/// @return an ExitCode
[[nodiscard]] int deliver(std::string_view text, const std::optional<std::string>& out);

}  // namespace lagline::cli
