#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// Appends `text` as a field of RFC 4180, quoted where it must be.  A text that a spreadsheet
/// would run as a formula (it starts with = + - @, tab or return and is no number) gets an
/// apostrophe in front, which spreadsheets take for "this is text".
void append_csv_text(std::string& csv, std::string_view text);

/// The text that append_csv_text() made a field of.  A text of a name's own that begins with an
/// apostrophe, would be a formula without it and holds a comma, quote or line break is taken for a
/// neutralised one.
[[nodiscard]] std::string text_of_csv(std::string_view field);

}  // namespace lagline
