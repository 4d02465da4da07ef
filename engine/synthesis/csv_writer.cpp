#include "synthesis/csv_writer.h"

#include <array>
#include <charconv>
#include <chrono>

#include "blocks/csv_cell.h"

namespace lagline {
namespace {

/// Prints through a whole number: quicker than printing a double, and free of its rounding modes.
void append_decimal(std::string& out, double value, int decimals) {
    std::uint64_t scale = 1;
    for (int i = 0; i < decimals; ++i) scale *= 10;
    const double size = value < 0 ? -value : value;
    // Never negative here, so that cutting off is rounding down.
    const double halves_up = size * static_cast<double>(scale) + 0.5;
    const auto scaled = static_cast<std::uint64_t>(halves_up);
    if (value < 0 && scaled != 0) out += '-';
    append_padded(out, scaled / scale, 1);
    std::uint64_t rest = scaled % scale;
    if (rest == 0) return;
    out += '.';
    while (rest % 10 == 0) {
        rest /= 10;
        --decimals;
    }
    append_padded(out, rest, decimals);
}

}  // namespace

void append_padded(std::string& out, std::uint64_t number, int digits) {
    std::array<char, 20> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number).ptr;
    const auto used = end - buffer.data();
    if (used < digits) out.append(static_cast<std::size_t>(digits - used), '0');
    out.append(buffer.data(), static_cast<std::size_t>(used));
}

void CsvWriter::separate() {
    if (row_begun_) out_ += ',';
    row_begun_ = true;
}

void CsvWriter::headings(std::span<const FieldInfo> fields, std::string_view currency) {
    for (const auto& field : fields) {
        separate();
        out_ += heading_of(field);
        if (field.kind == FieldKind::quantity && field.dimension == Dimension::money) {
            out_.append(" [").append(currency).append("]");
        }
    }
    end_row();
}

void CsvWriter::text(bool given, std::string_view text) {
    separate();
    if (given) append_csv_cell(out_, text);
}

void CsvWriter::word(bool given, std::string_view word) {
    separate();
    if (given) out_ += word;
}

void CsvWriter::number(bool given, double value, int decimals) {
    separate();
    if (given) append_decimal(out_, value, decimals);
}

void CsvWriter::date(bool given, Date date, DatePrecision precision) {
    separate();
    if (!given) return;
    const std::chrono::year_month_day ymd{std::chrono::sys_days{std::chrono::days{date.days}}};
    append_padded(out_, static_cast<std::uint64_t>(static_cast<int>(ymd.year())), 4);
    if (precision == DatePrecision::year) return;
    out_ += '-';
    append_padded(out_, static_cast<unsigned>(ymd.month()), 2);
    if (precision == DatePrecision::month) return;
    out_ += '-';
    append_padded(out_, static_cast<unsigned>(ymd.day()), 2);
}

void CsvWriter::name(bool given, std::string_view prefix, std::uint64_t number, int digits) {
    separate();
    if (!given) return;
    out_ += prefix;
    out_ += '-';
    append_padded(out_, number, digits);
}

void CsvWriter::end_row() {
    out_ += '\n';
    row_begun_ = false;
}

}  // namespace lagline
