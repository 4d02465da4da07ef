#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace lagline {

/// Offset of the first byte that is not valid UTF-8 (RFC 3629), or npos when all is valid.
[[nodiscard]] std::size_t first_invalid_utf8(std::string_view text);

/// Number of terminal columns `text` takes, counting one per code point.
[[nodiscard]] std::size_t display_width(std::string_view text);

/// `text` made safe for one line of a terminal: control characters and bad UTF-8 shown as \xNN,
/// cut to `most` columns with an ellipsis.
[[nodiscard]] std::string printable(std::string_view text, std::size_t most = 60);

/// `text` without white space at either end.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// Lower case of the ASCII letters, the rest as it is.
[[nodiscard]] std::string ascii_lower(std::string_view text);

}  // namespace lagline
