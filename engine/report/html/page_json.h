#pragma once

// For the files of this folder only: how the data of the report page is written down.

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "report/json_writer.h"

namespace lagline {

using PageJson = CompactJsonWriter;

/// Digits of numbers in the page; CSV and JSON of the ranking carry them to the last bit.
inline constexpr int page_digits = 6;

/// A number as JSON; null where it is not finite.
[[nodiscard]] std::string number_cell(double value, int digits = page_digits);
/// A text as JSON, with quotes.
[[nodiscard]] std::string text_cell(std::string_view text);

/// Writes a column as an array of its cells, each JSON already, or as {"all": cell} where all rows
/// hold the same.
void write_column(PageJson& json, std::string_view key, const std::vector<std::string>& cells);

/// Writes a column of texts; where they repeat, as {"words": [...], "codes": [...]}.
void write_texts(PageJson& json, std::string_view key, const std::vector<std::string_view>& texts);

/// Pieces of JSON that many rows share: each is kept once and known by its number.
class SharedPieces {
  public:
    [[nodiscard]] std::uint32_t number_of(const std::string& piece);
    void write(PageJson& json, std::string_view key) const;

  private:
    std::unordered_map<std::string, std::uint32_t> numbers_;
    std::vector<const std::string*> pieces_;  ///< the map's keys do not move
};

/// `json` fit to stand inside a script element: without a character that could end it.
[[nodiscard]] std::string script_safe(std::string_view json);

}  // namespace lagline
