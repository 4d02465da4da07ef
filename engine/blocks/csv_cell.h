#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// Appends `text` as a field of RFC 4180: in quotes where it could not be read back otherwise.
void append_csv_cell(std::string& csv, std::string_view text);

/// The same in quotes, whatever it holds.
void append_quoted_csv_cell(std::string& csv, std::string_view text);

}  // namespace lagline
