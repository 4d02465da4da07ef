#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "plant/field.h"
#include "quantity/date.h"

namespace lagline {

/// How exactly a record remembers a day.
enum class DatePrecision : std::uint8_t { day, month, year };

/// Writes the rows of a CSV file (RFC 4180) at the end of a string.  A cell that is not `given` is
/// left empty.
class CsvWriter {
  public:
    explicit CsvWriter(std::string& out) : out_(out) {}

    /// The headings of `fields`, each with its unit; money headings carry `currency`.
    void headings(std::span<const FieldInfo> fields, std::string_view currency);

    void text(bool given, std::string_view text);
    /// A word of a vocabulary: never in need of quotes.
    void word(bool given, std::string_view word);
    /// Rounded to `decimals`, zeros at the end left off.
    void number(bool given, double value, int decimals);
    void date(bool given, Date date, DatePrecision precision = DatePrecision::day);
    void flag(bool given, bool value) { word(given, value ? "yes" : "no"); }
    /// A prefix, a hyphen and a number of at least `digits` digits: "S-00012".
    void name(bool given, std::string_view prefix, std::uint64_t number, int digits);
    void end_row();

  private:
    void separate();

    std::string& out_;
    bool row_begun_ = false;
};

/// `number` with zeros in front, at least `digits` wide.
void append_padded(std::string& out, std::uint64_t number, int digits);

}  // namespace lagline
