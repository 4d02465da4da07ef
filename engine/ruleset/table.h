#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "quantity/date.h"
#include "quantity/unit.h"

namespace lagline {

/// How a number came into the rule set.
enum class Basis : std::uint8_t {
    published,        ///< read in a copy of the named source
    recalled,         ///< from memory of the named source; check against a licensed copy
    common_practice,  ///< habit of the trade, no source
    site,             ///< set by the site, with a reason
};
[[nodiscard]] std::string_view to_string(Basis basis);

struct SourceRef {
    std::string id;     ///< key into RuleSet::sources
    std::string where;  ///< table, page, example
};

/// What a lookup does outside the stated range.
enum class Outside : std::uint8_t {
    refuse,  ///< the segment is reported and not ranked
    clamp,   ///< the nearest end of the range holds; the row is flagged
    zero,    ///< the value is 0; the row is flagged
};
[[nodiscard]] std::string_view to_string(Outside outside);

/// One number (or word) of a table, with all an auditor asks of it.
struct RuleEntry {
    std::string key;        ///< "mineral_wool", "severe at 160 degF", "low, state_1"
    double value = 0.0;     ///< in the table's base unit (quantity/unit.h); 0 for a word
    double printed = 0.0;   ///< as the file has it, in the table's own unit
    std::string word;       ///< for a table that gives words
    std::uint8_t code = 0;  ///< code of `word` in its vocabulary
    Place place;
    SourceRef source;
    Basis basis{};
    std::string note;
    // Set when an overlay changed the entry:
    std::string reason;
    std::string replaced;  ///< what stood there before, as text
};

/// The numbers that a table may hold, ends included, in base unit.
struct ValueRange {
    double least = 0.0;
    double most = 0.0;
    std::string text = {};  ///< as people read it: "0 to 2000 mpy"
    [[nodiscard]] bool holds(double value) const { return value >= least && value <= most; }
};

/// What every table states about itself.
struct TableInfo {
    std::string name;
    std::string meaning;
    std::string unit;       ///< as written; "-" for a pure number, "" for a table of words
    Dimension dimension{};  ///< of the values
    /// Of the numbers; nothing for a table of words.  Stays through all layers: an overlay that
    /// changes or replaces the table keeps to it.
    std::optional<ValueRange> range;
    bool range_stated = false;  ///< by the table's own `range`, not by its dimension alone
    std::string gives;          ///< vocabulary of the values; "" for numbers
    std::string by;             ///< vocabulary that selects a row or curve; "" for none
    std::string columns;        ///< vocabulary that selects a column; "" for none
    std::string axis;           ///< quantity along which the table runs; "" for none
    std::string axis_unit;      ///< as written
    Dimension axis_dimension{};
    std::optional<double> valid_from;  ///< of the axis, in base unit
    std::optional<double> valid_to;
    Outside below = Outside::refuse;
    Outside above = Outside::refuse;
    SourceRef source;
    Basis basis{};
    Place place;
};

/// Result of a lookup: the value and which entries made it.
struct RuleHit {
    double value = 0.0;
    std::uint8_t code = 0;       ///< for a table that gives words
    std::uint32_t entry = 0;     ///< index into entries
    std::uint32_t entry_to = 0;  ///< the other end of an interpolation, else = entry
    bool below = false;          ///< argument lay below the range
    bool above = false;          ///< argument lay above the range
    [[nodiscard]] bool outside() const { return below || above; }
};

/// One number or word.
struct ValueTable {
    TableInfo info;
    std::vector<RuleEntry> entries;  ///< exactly one
    [[nodiscard]] double value() const { return entries.front().value; }
    [[nodiscard]] const std::string& word() const { return entries.front().word; }
    [[nodiscard]] std::uint8_t code() const { return entries.front().code; }
};

/// A number or word for each word of a vocabulary; entry i belongs to code i.
struct LookupTable {
    TableInfo info;
    std::vector<RuleEntry> entries;
    [[nodiscard]] double value(std::uint8_t code) const { return entries[code].value; }
    [[nodiscard]] std::uint8_t code(std::uint8_t by) const { return entries[by].code; }
};

/// Straight lines between points, one curve per word of `by`.
struct CurveTable {
    TableInfo info;
    std::vector<double> points;      ///< axis values in base unit, ascending; shared by all curves
    std::vector<RuleEntry> entries;  ///< entry [curve * points + point]
    /// Value at `at` (axis base unit) on the curve of word `by`.  At a point the printed value
    /// comes back unchanged.
    [[nodiscard]] RuleHit find(std::uint8_t by, double at) const;
};

/// Part of an axis, in base unit; empty when `from` lies above `to`.
struct AxisRange {
    double from = 0.0;
    double to = 0.0;
};

/// Ranges of an axis.  One list of bands per word of `by` (or one list), each band with one value
/// per word of `columns` (or one value).
struct BandTable {
    struct Band {
        double to = 0.0;          ///< upper end in base unit; +infinity for the last open band
        bool inclusive = true;    ///< `upto`: the end belongs to the band; `below`: it does not
        std::uint32_t entry = 0;  ///< first entry of the band
    };
    TableInfo info;
    std::vector<std::vector<Band>> lists;  ///< by code of `by`; one list when `by` is empty
    std::vector<RuleEntry> entries;
    [[nodiscard]] RuleHit find(std::uint8_t by, double at, std::uint8_t column = 0) const;
    /// For a table of words without `by`: the part of the axis that gives each of `words` words,
    /// by code; without limit at the ends of the axis, empty for a word that no band gives.
    [[nodiscard]] std::vector<AxisRange> ranges_of_words(std::size_t words) const;
};

/// A number or word for each pair (row word, column word); entry [row * columns + column].
struct GridTable {
    TableInfo info;
    std::size_t column_count = 0;
    std::vector<RuleEntry> entries;
    [[nodiscard]] const RuleEntry& at(std::uint8_t row, std::uint8_t column) const {
        return entries[row * column_count + column];
    }
};

/// A factor on the corrosion rate by the text or word in a column of segments.csv, or of the site's
/// own.
struct SiteFactorTable {
    TableInfo info;                  ///< info.by is the heading of the column
    std::vector<RuleEntry> entries;  ///< key = text of the cell
    RuleEntry otherwise;             ///< for every other text, and for empty cells
    std::optional<Date> learned;     ///< day of the last finding it was made from
    [[nodiscard]] const RuleEntry& find(std::string_view text) const;
};

}  // namespace lagline
