#include "intake/sheet_reader.h"

#include <algorithm>
#include <memory>
#include <mutex>
#include <optional>

#include "blocks/pool.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/csv.h"
#include "intake/heading.h"
#include "intake/reports_in_order.h"
#include "intake/row_reader.h"
#include "intake/source_file.h"
#include "plant/field.h"

namespace lagline {
namespace {

// What blocks of rows have found, told in the order of the file.
class Findings {
  public:
    Findings(std::size_t columns, Report& into) : reports_(into), bare_(columns) {}

    [[nodiscard]] bool full() const { return reports_.full(); }

    void add(std::size_t block, RowFindings found) {
        {
            const std::lock_guard lock{mutex_};
            for (std::size_t i = 0; i < bare_.size(); ++i) bare_[i].add(found.bare[i]);
            std::ranges::move(found.arena, std::back_inserter(arena_));
        }
        reports_.add(block, std::move(found.report));
    }

    [[nodiscard]] const std::vector<BareNumbers>& bare() const { return bare_; }
    [[nodiscard]] std::vector<std::shared_ptr<const std::string>>& arena() { return arena_; }

  private:
    ReportsInOrder reports_;
    std::mutex mutex_;
    std::vector<BareNumbers> bare_;
    std::vector<std::shared_ptr<const std::string>> arena_;
};

void report_bare(const Sheet& sheet, const ColumnPlan& plan, const BareNumbers& bare,
                 Report& report) {
    Place first = whole_of(sheet.source);
    first.line = static_cast<int>(bare.first_line);
    report.add({.problem = Problem::missing_unit,
                .where = place_at(sheet.source, plan.offset),
                .subject = std::string{plan.field->key},
                .found = std::to_string(bare.count) + " number" + (bare.count == 1 ? "" : "s") +
                         " without a unit, the first in " + line_text(first),
                .expected = "a unit in the heading or in each cell (" +
                            listing(unit_symbols(plan.field->dimension)) + ")",
                .mend = "write the heading as " +
                        (plan.field->dimension == Dimension::money
                             ? std::string{plan.field->key} + " [" + plan.stored.symbol + "]"
                             : heading_of(*plan.field)) +
                        " if that is the unit of the numbers",
                .excerpt = excerpt_at(sheet.source, plan.offset,
                                      std::max<std::size_t>(1, plan.heading.size()))});
}

void read_rows(Sheet& sheet, const SheetContext& context, const std::vector<ColumnPlan>& plans,
               Report& report) {
    Findings findings{plans.size(), report};
    Pool<CellCache> caches;
    for_each_block(sheet.rows(), context.plan, [&](std::size_t block, RowRange range) {
        RowFindings found{plans.size()};
        auto cache = caches.take([&] { return std::make_unique<CellCache>(plans.size()); });
        read_block(sheet, context, plans, range, *cache, findings.full(), found);
        caches.give_back(std::move(cache));
        findings.add(block, std::move(found));
    });
    for (std::size_t i = 0; i < plans.size(); ++i) {
        const BareNumbers& bare = findings.bare()[i];
        if (bare.count > 0) report_bare(sheet, plans[i], bare, report);
    }
    std::ranges::move(findings.arena(), std::back_inserter(sheet.arena));
}

std::vector<CsvCell> split_heading_record(const Sheet& sheet, std::size_t offset, Report& report) {
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    split_record(sheet.source.bytes, offset, cells, faults);
    PlaceFinder places{sheet.source};
    for (const CsvFault& fault : faults) {
        report.add({.problem = Problem::csv_quote,
                    .where = places.at(fault.offset),
                    .subject = "",
                    .found = fault.found,
                    .expected = "fields as RFC 4180 has them",
                    .mend = fault.mend,
                    .excerpt = excerpt_at(sheet.source, fault.offset, 1)});
    }
    // Spreadsheets leave commas behind the last column.
    while (cells.size() > 1 && cells.back().text.empty()) cells.pop_back();
    return cells;
}

// Room for the site's own columns.  Where rows and columns are more than the commas there are, some
// row has been refused: the texts will not be read, and two small numbers multiplied are not small.
void allocate_site_columns(Sheet& sheet, std::size_t columns) {
    if (sheet.rows() > sheet.source.bytes.size() / std::max<std::size_t>(1, columns)) return;
    for (SiteColumn& column : sheet.site_columns) column.texts.assign(sheet.rows(), {});
}

void refuse_no_rows(const Sheet& sheet, bool heading, Report& report) {
    report.add(
        {.problem = Problem::empty_file,
         .where = whole_of(sheet.source),
         .subject = "",
         .found = heading ? "a heading and no rows" : "nothing but blanks and commas",
         .expected = heading ? "a heading and one row a segment" : "a heading and rows",
         .mend = heading ? "fill in the segments" : "fill the file, or remove it if it is optional",
         .excerpt = {}});
}

bool refuse_lone_returns(const SourceText& source, Report& report) {
    const std::string_view text = trimmed(source.bytes);
    if (text.find('\n') != std::string_view::npos || text.find('\r') == std::string_view::npos) {
        return false;
    }
    report.add({.problem = Problem::csv_field_count,
                .where = {source.file, 1, 1},
                .subject = "",
                .found = "lines that end in CR alone",
                .expected = "lines that end in LF or CRLF",
                .mend = "save the file with the line ends of Unix or Windows, or: tr '\\r' '\\n'",
                .excerpt = {}});
    return true;
}

}  // namespace

void read_sheet(Sheet& sheet, SourceText source, const SheetContext& context, Report& report) {
    sheet.source = std::move(source);
    if (refuse_lone_returns(sheet.source, report)) return;
    CsvRecords records = find_records(sheet.source, report, context.plan);
    sheet.torn = records.torn;
    if (records.offsets.empty() && sheet.torn) return;
    if (records.offsets.empty()) return refuse_no_rows(sheet, false, report);
    const auto heading = split_heading_record(sheet, records.offsets.front(), report);
    if (refuse_heading(sheet, heading, context.map, report)) return;
    sheet.row_offsets = std::move(records.offsets);
    sheet.row_lines = std::move(records.lines);
    sheet.row_offsets.erase(sheet.row_offsets.begin());  // the heading
    sheet.row_lines.erase(sheet.row_lines.begin());
    sheet.set_rows(sheet.row_offsets.size());
    const auto plans = read_headings(sheet, heading, context, report);
    allocate_site_columns(sheet, plans.size());
    const bool segments =
        sheet.fields().data() == segment_fields().data() && !context.may_have_no_rows;
    if (segments && sheet.rows() == 0 && !sheet.torn) refuse_no_rows(sheet, true, report);
    read_rows(sheet, context, plans, report);
}

}  // namespace lagline
