#include "intake/cell.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using Outcome = CellReading::Outcome;

CellReading fault(Problem problem, std::string found, std::string expected, std::string mend) {
    CellReading reading;
    reading.outcome = Outcome::fault;
    reading.fault = std::make_unique<CellFault>(
        CellFault{problem, std::move(found), std::move(expected), std::move(mend)});
    return reading;
}

// The shortest text that reads back as the same number, without an exponent where people would
// write none: 100000, not 1e+05.
std::string number_text(double value) {
    std::array<char, 32> digits{};
    const bool plain = value == 0.0 || (std::abs(value) >= 1e-4 && std::abs(value) < 1e12);
    const auto form = plain ? std::chars_format::fixed : std::chars_format::general;
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value, form).ptr;
    return {digits.data(), end};
}

std::string quoted(std::string_view text) { return "'" + printable(text) + "'"; }

std::string wanted_quantity(const ColumnPlan& plan) {
    const Dimension dimension = plan.field->dimension;
    if (dimension == Dimension::number) return "a number";
    if (dimension == Dimension::money) return "money in " + plan.stored.symbol;
    return std::string{describe(dimension)} + " (" + listing(unit_symbols(dimension)) + ")";
}

CellReading number_fault(const ColumnPlan& plan, std::string_view text, NumberFault what) {
    const std::string mend = plan.field->needed
                                 ? "correct the cell; this column must be filled"
                                 : "correct the cell, or leave it empty if the value is not known";
    if (what == NumberFault::comma_decimal) {
        return fault(Problem::not_a_number, quoted(text) + ", a number with a comma",
                     wanted_quantity(plan) + ", with a decimal point",
                     "write the number with a point and without thousands separators");
    }
    if (what == NumberFault::not_finite) {
        return fault(Problem::not_a_number, quoted(text) + ", which is not a finite number",
                     wanted_quantity(plan), mend);
    }
    return fault(Problem::not_a_number, quoted(text), wanted_quantity(plan), mend);
}

CellReading unit_fault(const ColumnPlan& plan, std::string_view text, std::string_view unit,
                       const std::string& why) {
    const auto others = dimensions_of(unit);
    if (others.empty() || plan.field->dimension == Dimension::money) {
        return fault(others.empty() ? Problem::unknown_unit : Problem::unit_mismatch, quoted(text),
                     wanted_quantity(plan),
                     why.empty() ? "correct the unit '" + printable(unit) + "'" : why);
    }
    return fault(Problem::unit_mismatch,
                 quoted(text) + ", " + std::string{describe(others.front())}, wanted_quantity(plan),
                 "correct the unit, or move the value to its own column");
}

CellReading range_fault(const ColumnPlan& plan, std::string_view text, double value) {
    const FieldInfo& field = *plan.field;
    std::string found = quoted(text);
    if (plan.unit && plan.unit->symbol != plan.stored.symbol) {
        found += " " + plan.unit->symbol + " = " + shown(field, value);
    }
    std::string mend = value < 0.0 && field.least >= 0.0 ? "it cannot be negative; correct the cell"
                                                         : "correct the cell";
    if (field.dimension != Dimension::number && field.dimension != Dimension::money) {
        mend += ", or the unit in the heading";
    }
    const std::string expected =
        "between " + shown(field, field.least) + " and " + shown(field, field.most);
    return fault(Problem::out_of_range, std::move(found), expected, std::move(mend));
}

CellReading in_range(const ColumnPlan& plan, std::string_view text, double value) {
    if (!(value >= plan.field->least && value <= plan.field->most)) {
        return range_fault(plan, text, value);
    }
    CellReading reading;
    reading.outcome = Outcome::value;
    reading.value.number = value;
    return reading;
}

CellReading read_number_cell(const ColumnPlan& plan, std::string_view text,
                             const PlantMoney& money) {
    const NumberReading number = read_quantity(text);
    if (number.fault != NumberFault::none) return number_fault(plan, text, number.fault);
    if (!number.unit.empty()) {
        const UnitLookup own = find_unit(number.unit, plan.field->dimension, money);
        if (!own.unit) return unit_fault(plan, text, number.unit, own.problem);
        return in_range(plan, text, convert(number.value, *own.unit, plan.stored));
    }
    if (plan.unit) return in_range(plan, text, convert(number.value, *plan.unit, plan.stored));
    if (plan.field->dimension == Dimension::number && plan.field->unit.empty()) {
        return in_range(plan, text, number.value);
    }
    CellReading bare;
    bare.outcome = Outcome::bare_number;
    return bare;
}

CellReading read_date_cell(std::string_view text) {
    const auto date = parse_date(text);
    if (!date && is_date_of_other_years(text)) {
        return fault(Problem::out_of_range, quoted(text),
                     "a day of the years " + std::to_string(first_date_year) + " to " +
                         std::to_string(last_date_year),
                     "correct the year");
    }
    if (!date) {
        return fault(Problem::not_a_date, quoted(text), "a date as YYYY-MM-DD (or YYYY-MM, YYYY)",
                     "write the date as ISO 8601 has it, e.g. 2014-06-30");
    }
    CellReading reading;
    reading.outcome = Outcome::value;
    reading.value.days = date->date.days;
    reading.value.imprecise = !date->precise;
    return reading;
}

CellReading read_word_cell(const ColumnPlan& plan, std::string_view text) {
    if (const auto word = plan.words.find(text); word != plan.words.end()) {
        CellReading reading;
        reading.outcome = Outcome::value;
        reading.value.code = word->second;
        return reading;
    }
    // The hash order of the words must not show: offer them in the order of their codes.
    std::vector<std::string_view> words(plan.words.size());
    std::vector<std::pair<std::uint8_t, std::string_view>> by_code;
    for (const auto& [word, code] : plan.words) by_code.emplace_back(code, word);
    std::ranges::sort(by_code);
    for (std::size_t i = 0; i < by_code.size(); ++i) words[i] = by_code[i].second;
    const std::string meant = did_you_mean(text, words);
    return fault(Problem::unknown_word, quoted(text), "one of: " + listing(words, 20),
                 (meant.empty() ? std::string{} : meant + " ") +
                     "use one of these words, or map yours under `words` in columns.yaml");
}

CellReading read_size_cell(const ColumnPlan& plan, std::string_view text) {
    const auto size = parse_pipe_size(text, plan.size_system);
    if (size) {
        CellReading reading;
        reading.outcome = Outcome::value;
        reading.value.code = *size;
        return reading;
    }
    if (!plan.size_system && read_number(text).fault == NumberFault::none) {
        CellReading bare;
        bare.outcome = Outcome::bare_number;
        return bare;
    }
    return fault(Problem::unknown_word, quoted(text),
                 "a nominal pipe size of ASME B36.10, e.g. NPS 6, NPS 1 1/2 or DN 150",
                 "correct the size, or the system (NPS, DN) in the heading");
}

}  // namespace

std::string shown(const FieldInfo& field, double value) {
    std::string text = number_text(value);
    if (!field.unit.empty()) text.append(" ").append(field.unit);
    return text;
}

CellFault fault_of(const ColumnPlan& plan, std::string_view text, CellReading reading) {
    if (reading.fault) return std::move(*reading.fault);
    return {Problem::missing_unit, quoted(text) + ", a number without a unit",
            std::string{describe(plan.field->dimension)} + " with its unit",
            "write the unit behind the number"};
}

CellReading read_cell(const ColumnPlan& plan, std::string_view text, const PlantMoney& money) {
    if (text.empty()) return {};
    switch (plan.field->kind) {
        case FieldKind::text: {
            CellReading reading;
            reading.outcome = Outcome::value;
            return reading;
        }
        case FieldKind::quantity:
            return read_number_cell(plan, text, money);
        case FieldKind::date:
            return read_date_cell(text);
        case FieldKind::word:
        case FieldKind::flag:
            return read_word_cell(plan, text);
        case FieldKind::pipe_size:
            return read_size_cell(plan, text);
    }
    return {};
}

}  // namespace lagline
