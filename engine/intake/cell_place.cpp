#include "intake/cell_place.h"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "intake/cell.h"
#include "intake/csv.h"
#include "intake/source_file.h"
#include "quantity/date.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

std::optional<CsvCell> find_cell(const Sheet& sheet, std::size_t field, std::size_t row) {
    const int column = sheet.column(field).file_column;
    if (column < 0) return std::nullopt;
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    split_record(sheet.source.bytes, sheet.row_offsets[row], cells, faults);
    const auto at = static_cast<std::size_t>(column);
    if (at >= cells.size()) return std::nullopt;
    return cells[at];
}

std::size_t offset_of(const Sheet& sheet, const std::optional<CsvCell>& cell, std::size_t row) {
    return cell ? cell->offset : sheet.row_offsets[row];
}

}  // namespace

Place cell_place(const Sheet& sheet, std::size_t field, std::size_t row) {
    const auto cell = find_cell(sheet, field, row);
    return place_from(sheet.source, sheet.row_offsets[row], static_cast<int>(sheet.row_lines[row]),
                      offset_of(sheet, cell, row));
}

std::string cell_text(const Sheet& sheet, std::size_t field, std::size_t row) {
    const auto cell = find_cell(sheet, field, row);
    if (!cell) return "";
    return cell->doubled ? undoubled(cell->text) : std::string{cell->text};
}

void add_at_cell(Report& report, const Sheet& sheet, std::size_t field, std::size_t row,
                 Severity severity, Problem problem, std::string found, std::string expected,
                 std::string mend) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where.file = sheet.source.file;
    diagnostic.subject = sheet.fields()[field].key;
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    if (!report.full()) {
        const auto cell = find_cell(sheet, field, row);
        const std::size_t offset = offset_of(sheet, cell, row);
        diagnostic.where = cell_place(sheet, field, row);
        diagnostic.excerpt = excerpt_at(sheet.source, offset,
                                        std::max<std::size_t>(1, cell ? cell->text.size() : 1));
    }
    report.add(std::move(diagnostic));
}

std::string value_text(const Sheet& sheet, std::size_t field, std::size_t row,
                       std::string_view word) {
    if (sheet.state(field, row) == CellState::absent) return "";
    const FieldInfo& info = sheet.fields()[field];
    const SheetColumn& column = sheet.column(field);
    switch (info.kind) {
        case FieldKind::text:
            return std::string{column.texts[row]};
        case FieldKind::quantity:
            return shown(info, column.numbers[row]);
        case FieldKind::date:
            return to_string(Date{column.days[row]});
        case FieldKind::flag:
            return column.codes[row] == 0 ? "no" : "yes";
        case FieldKind::pipe_size:
            return to_string(pipe_sizes()[column.codes[row]]);
        case FieldKind::word:
            return std::string{word};
    }
    return "";
}

}  // namespace lagline
