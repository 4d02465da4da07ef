#include "workbook/cell_value.h"

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "blocks/number_text.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

CellText plain(std::string text) { return {std::move(text), {}, {}, {}, false}; }

CellText damaged_cell(std::string what) {
    return {{},
            std::move(what),
            "a cell as ISO/IEC 29500 has it",
            "open the file in a spreadsheet and save it as .xlsx",
            true};
}

std::optional<double> number_in(std::string_view text) {
    double value = 0.0;
    const char* const end = text.data() + text.size();
    const auto [at, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || at != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

// A hundred times `value`, by moving the point: 0.07 gives 7, not 7.000000000000001.
double hundredfold(double value) {
    std::array<char, 64> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value,
                                   std::chars_format::scientific)
                         .ptr;
    const std::string text{digits.data(), end};
    const auto power = text.find('e');
    int exponent = 0;
    // from_chars knows no plus sign.
    const std::size_t from = power + (text[power + 1] == '+' ? 2 : 1);
    std::from_chars(text.data() + from, text.data() + text.size(), exponent);
    return number_in(text.substr(0, power) + "e" + std::to_string(exponent + 2))
        .value_or(value * 100.0);
}

CellText date_cell(double serial, DateSystem system) {
    if (auto text = date_text(serial, system)) return plain(std::move(*text));
    return {{},
            "the day number " + plain_number(serial) + " shown as a date",
            "a day between 1900-01-01 and 9999-12-31; 1900 had no 29 February",
            "correct the date; if it is a number, give the cell a number format",
            false};
}

CellText time_cell(double days) {
    if (auto text = time_text(days)) return plain(std::move(*text));
    return {{},
            "the number " + plain_number(days) + " shown as a time",
            "a time of day",
            "correct the cell; if it is a number, give the cell a number format",
            false};
}

CellText number_cell(const RawCell& cell, const CellContext& context) {
    if (cell.value.empty() && cell.formula) {
        return {{},
                "a formula without a stored value",
                "a value",
                "open the file in a spreadsheet, which calculates it, and save it",
                false};
    }
    if (cell.value.empty()) return {};
    const auto value = number_in(trimmed(cell.value));
    if (!value) return damaged_cell("'" + printable(cell.value) + "' as the number of a cell");
    if (cell.style >= context.styles.size() && cell.style != 0) {
        return damaged_cell("style " + std::to_string(cell.style) +
                            ", which the file does not have");
    }
    const auto meaning = context.styles.empty() ? NumberMeaning::plain : context.styles[cell.style];
    switch (meaning) {
        case NumberMeaning::plain:
            return plain(plain_number(*value));
        case NumberMeaning::percent:
            return plain(plain_number(hundredfold(*value)) + " %");
        case NumberMeaning::date:
            return date_cell(*value, context.dates);
        case NumberMeaning::time:
        case NumberMeaning::elapsed:
            return time_cell(*value);
    }
    return {};
}

CellText shared_cell(const RawCell& cell, const TextList& shared) {
    if (cell.value.empty()) return {};
    const auto index = parse_count(trimmed(cell.value));
    if (index && *index < shared.size()) return plain(std::string{shared[*index]});
    return damaged_cell("shared text " + printable(cell.value) + ", which the file does not have");
}

CellText boolean_cell(const RawCell& cell) {
    if (cell.value == "1" || cell.value == "true") return plain("yes");
    if (cell.value == "0" || cell.value == "false") return plain("no");
    return damaged_cell("'" + printable(cell.value) + "' as true or false");
}

CellText error_cell(const RawCell& cell) {
    return {{},
            "the error value " + printable(cell.value),
            "a value",
            "mend the formula, or empty the cell if the value is not known",
            false};
}

// "2014-06-30T00:00:00" is a day.
CellText iso_date_cell(const RawCell& cell) {
    const auto time = cell.value.find("T00:00:00");
    return plain(time == std::string::npos ? cell.value : cell.value.substr(0, time));
}

}  // namespace

CellText text_of(const RawCell& cell, const CellContext& context) {
    if (cell.type.empty() || cell.type == "n") return number_cell(cell, context);
    if (cell.type == "s") return shared_cell(cell, context.shared);
    if (cell.type == "inlineStr") return plain(cell.own_text);
    if (cell.type == "str") return plain(without_escapes(cell.value));
    if (cell.type == "b") return boolean_cell(cell);
    if (cell.type == "e") return error_cell(cell);
    if (cell.type == "d") return iso_date_cell(cell);
    return damaged_cell("a cell of the unknown type '" + printable(cell.type) + "'");
}

}  // namespace lagline
