#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// Appends `text` as a field of RFC 4180, quoted where it must be.  A text that a spreadsheet
/// would run as a formula (it starts with = + - @, tab or return and is no number) gets an
/// apostrophe in front, which spreadsheets take for "this is text".
void append_csv_text(std::string& csv, std::string_view text);

}  // namespace lagline
