#include "diagnostics/diagnostic.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace lagline {
namespace {

// A name that is no plain word stands in quotes, as in a formula: 'line list'!F41.
std::string sheet_reference(std::string_view sheet) {
    const auto plain = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
               c == '_';
    };
    if (std::ranges::all_of(sheet, plain)) return std::string{sheet};
    std::string quoted = "'";
    for (const char c : sheet) {
        if (c == '\'') quoted += c;
        quoted += c;
    }
    return quoted + "'";
}

}  // namespace

std::string_view code_of(Problem problem) {
    // No default: with -Wswitch-enum as an error a forgotten entry does not compile.
    switch (problem) {
        case Problem::unreadable_file:
            return "unreadable-file";
        case Problem::not_a_file:
            return "not-a-file";
        case Problem::missing_file:
            return "missing-file";
        case Problem::empty_file:
            return "empty-file";
        case Problem::not_utf8:
            return "not-utf8";
        case Problem::csv_quote:
            return "csv-quote";
        case Problem::csv_field_count:
            return "csv-field-count";
        case Problem::duplicate_column:
            return "duplicate-column";
        case Problem::missing_column:
            return "missing-column";
        case Problem::unknown_column:
            return "unknown-column";
        case Problem::missing_unit:
            return "missing-unit";
        case Problem::unknown_unit:
            return "unknown-unit";
        case Problem::unit_mismatch:
            return "unit-mismatch";
        case Problem::missing_value:
            return "missing-value";
        case Problem::not_a_number:
            return "not-a-number";
        case Problem::not_a_date:
            return "not-a-date";
        case Problem::unknown_word:
            return "unknown-word";
        case Problem::out_of_range:
            return "out-of-range";
        case Problem::duplicate_key:
            return "duplicate-key";
        case Problem::unknown_segment:
            return "unknown-segment";
        case Problem::contradiction:
            return "contradiction";
        case Problem::yaml_syntax:
            return "yaml-syntax";
        case Problem::yaml_shape:
            return "yaml-shape";
        case Problem::unknown_key:
            return "unknown-key";
        case Problem::missing_key:
            return "missing-key";
        case Problem::dangling_source:
            return "dangling-source";
        case Problem::missing_source:
            return "missing-source";
        case Problem::band_gap:
            return "band-gap";
        case Problem::band_overlap:
            return "band-overlap";
        case Problem::unsorted_points:
            return "unsorted-points";
        case Problem::missing_entry:
            return "missing-entry";
        case Problem::missing_table:
            return "missing-table";
        case Problem::missing_reason:
            return "missing-reason";
        case Problem::outside_validity:
            return "outside-validity";
        case Problem::expired_override:
            return "expired-override";
        case Problem::check_failed:
            return "check-failed";
        case Problem::ledger_damaged:
            return "ledger-damaged";
        case Problem::ledger_busy:
            return "ledger-busy";
        case Problem::not_stored:
            return "not-stored";
        case Problem::newer_format:
            return "newer-format";
        case Problem::unknown_run:
            return "unknown-run";
        case Problem::doubled_file:
            return "doubled-file";
        case Problem::damaged_workbook:
            return "damaged-workbook";
        case Problem::unreadable_cell:
            return "unreadable-cell";
        case Problem::merged_cells:
            return "merged-cells";
        case Problem::hidden_cells:
            return "hidden-cells";
        case Problem::unknown_sheet:
            return "unknown-sheet";
    }
    return "unclassified";  // only a value cast from outside the enumeration gets here
}

std::strong_ordering operator<=>(const Place& a, const Place& b) {
    return std::tie(a.file, a.sheet, a.line, a.column) <=>
           std::tie(b.file, b.sheet, b.line, b.column);
}

std::string column_letters(int column) {
    std::string letters;
    for (int left = column; left > 0; left = (left - 1) / 26) {
        letters.insert(letters.begin(), static_cast<char>('A' + (left - 1) % 26));
    }
    return letters;
}

std::string cell_name(const Place& place) {
    if (place.sheet.empty() || place.line == 0) return "";
    return column_letters(place.column) + std::to_string(place.line);
}

std::string line_text(const Place& place) {
    return (place.sheet.empty() ? "line " : "row ") + std::to_string(place.line);
}

std::string to_string(const Place& place) {
    std::string text = place.file;
    if (!place.sheet.empty()) {
        text += ':' + sheet_reference(place.sheet);
        if (place.line != 0) text += '!' + cell_name(place);
        return text;
    }
    if (place.line == 0) return text;  // a column alone would read as a line
    text += ':' + std::to_string(place.line);
    if (place.column != 0) text += ':' + std::to_string(place.column);
    return text;
}

void Report::add(Diagnostic diagnostic) {
    ++(diagnostic.severity == Severity::error ? errors_ : warnings_);
    if (full()) {
        ++dropped_[{std::move(diagnostic.where.file), diagnostic.problem}];
        return;
    }
    kept_.push_back(std::move(diagnostic));
}

void Report::merge(Report other) {
    // What `other` could not keep is already in its counts, but not in its diagnostics.
    const std::size_t errors = errors_ + other.errors_;
    const std::size_t warnings = warnings_ + other.warnings_;
    for (auto& diagnostic : other.kept_) add(std::move(diagnostic));
    for (const auto& [kind, count] : other.dropped_) dropped_[kind] += count;
    errors_ = errors;
    warnings_ = warnings;
}

std::vector<Report::Dropped> Report::dropped() const {
    std::vector<Dropped> all;
    all.reserve(dropped_.size());
    for (const auto& [kind, count] : dropped_) all.push_back({kind.first, kind.second, count});
    return all;
}

void Report::sort() { std::ranges::stable_sort(kept_, {}, &Diagnostic::where); }

}  // namespace lagline
