#include "intake/added_rows.h"

#include <algorithm>
#include <string_view>
#include <vector>

#include "blocks/csv_cell.h"
#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "intake/cell_place.h"
#include "intake/csv.h"
#include "intake/heading.h"

namespace lagline {
namespace {

// Of a number that is turned into another unit: more than any gauge reads, less than what shows the
// rounding of the factor.
constexpr int converted_digits = 12;

/// The columns of a text, in the order of the file.
struct Columns {
    Sheet sheet;
    std::vector<ColumnPlan> plans;
};

Columns columns_of(const Sheet& like, const SourceText& source, const SheetContext& context) {
    Report ignored;  // the same text has been read without an error
    Columns columns{Sheet{like.fields()}, {}};
    columns.sheet.source = source;
    const CsvRecords records = find_records(source, ignored);
    if (records.offsets.empty()) return columns;
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    split_record(source.bytes, records.offsets.front(), cells, faults);
    while (cells.size() > 1 && cells.back().text.empty()) cells.pop_back();
    columns.plans = read_headings(columns.sheet, cells, context, ignored);
    return columns;
}

std::string_view line_end(std::string_view bytes) {
    const auto at = bytes.rfind('\n');
    return at != std::string_view::npos && at > 0 && bytes[at - 1] == '\r' ? "\r\n" : "\n";
}

class RowWriter {
  public:
    RowWriter(const Sheet& sheet, Columns from, Columns to)
        : sheet_(sheet), from_(std::move(from)), to_(std::move(to)) {}

    [[nodiscard]] const std::vector<ColumnPlan>& columns() const { return to_.plans; }

    void append(std::size_t row, std::string_view end, std::string& text) const {
        bool first = true;
        for (const ColumnPlan& plan : to_.plans) {
            if (!first) text += ',';
            first = false;
            if (!plan.ignored) append_csv_cell(text, cell(plan, row));
        }
        text += end;
    }

    /// Tells of cells that no column takes.
    void report_lost(Report& report) const {
        for (std::size_t field = 0; field < sheet_.fields().size(); ++field) {
            const bool taken = std::ranges::any_of(to_.plans, [&](const ColumnPlan& plan) {
                return plan.field != nullptr && plan.field_index == field;
            });
            for (std::size_t row = 0; !taken && row < sheet_.rows(); ++row) {
                if (sheet_.state(field, row) == CellState::absent) continue;
                refuse(field, row, report);
                break;
            }
        }
        for (const SiteColumn& own : sheet_.site_columns) {
            if (to_site(own.key) != nullptr) continue;
            const auto filled = std::ranges::find_if(
                own.texts, [](std::string_view text) { return !text.empty(); });
            if (filled != own.texts.end()) {
                refuse_site(own, static_cast<std::size_t>(filled - own.texts.begin()), report);
            }
        }
    }

  private:
    [[nodiscard]] std::string cell(const ColumnPlan& plan, std::size_t row) const {
        if (plan.field == nullptr) {
            if (!plan.site_index) return "";
            const SiteColumn* own = from_site(to_.sheet.site_columns[*plan.site_index].key);
            return own == nullptr || own->texts.empty() ? "" : std::string{own->texts[row]};
        }
        if (sheet_.state(plan.field_index, row) == CellState::absent) return "";
        if (plan.field->kind == FieldKind::text) {
            return std::string{sheet_.column(plan.field_index).texts[row]};
        }
        std::string given{trimmed(cell_text(sheet_, plan.field_index, row))};
        if (plan.field->kind != FieldKind::quantity) return given;
        return number_in(plan, given);
    }

    // As it was written where it means the same there; else in the unit of the column.
    [[nodiscard]] std::string number_in(const ColumnPlan& plan, const std::string& given) const {
        const NumberReading number = read_quantity(given);
        const ColumnPlan& read_by = plan_of_filled(plan.field_index);
        if (!number.unit.empty() || !read_by.unit) return given;
        if (!plan.unit) return given + " " + read_by.unit->symbol;
        if (plan.unit->symbol == read_by.unit->symbol) return given;
        return short_number(convert(number.value, *read_by.unit, *plan.unit), converted_digits);
    }

    [[nodiscard]] const ColumnPlan& plan_of_filled(std::size_t field) const {
        return *std::ranges::find_if(from_.plans, [&](const ColumnPlan& plan) {
            return plan.field != nullptr && plan.field_index == field;
        });
    }

    [[nodiscard]] const SiteColumn* from_site(std::string_view key) const {
        const auto found = std::ranges::find(sheet_.site_columns, key, &SiteColumn::key);
        return found == sheet_.site_columns.end() ? nullptr : &*found;
    }
    [[nodiscard]] const SiteColumn* to_site(std::string_view key) const {
        const auto& all = to_.sheet.site_columns;
        const auto found = std::ranges::find(all, key, &SiteColumn::key);
        return found == all.end() ? nullptr : &*found;
    }

    void refuse(std::size_t field, std::size_t row, Report& report) const {
        add_at_cell(report, sheet_, field, row, Severity::error, Problem::missing_column,
                    "a value, but no such column in " + to_.sheet.source.file,
                    "a column " + heading_of(sheet_.fields()[field]) + " there",
                    "add the column to the heading there and an empty cell to each row, then "
                    "record again");
    }

    void refuse_site(const SiteColumn& own, std::size_t row, Report& report) const {
        report.add({.problem = Problem::missing_column,
                    .where = {sheet_.source.file, static_cast<int>(sheet_.row_lines[row]), 0},
                    .subject = own.key,
                    .found = "a value, but no such column in " + to_.sheet.source.file,
                    .expected = "a column " + printable(own.key) + " there",
                    .mend = "add the column there, or empty it here",
                    .excerpt = {}});
    }

    const Sheet& sheet_;
    Columns from_;
    Columns to_;
};

}  // namespace

std::optional<std::string> rows_to_add(const Sheet& sheet,
                                       const std::optional<SourceText>& existing,
                                       const SheetContext& context, Report& report) {
    const std::string heading = heading_line(sheet.fields());
    const SourceText to = existing ? *existing : SourceText{"inspections.csv", heading, {}};
    const std::size_t errors = report.errors();
    const RowWriter writer{sheet, columns_of(sheet, sheet.source, context),
                           columns_of(sheet, to, context)};
    writer.report_lost(report);
    if (report.errors() > errors) return std::nullopt;
    const std::string_view end = line_end(to.bytes);
    std::string text = existing ? "" : heading;
    if (!to.bytes.ends_with('\n')) text += end;
    for (std::size_t row = 0; row < sheet.rows(); ++row) writer.append(row, end, text);
    return text;
}

}  // namespace lagline
