#include "workbook/workbook.h"

#include <algorithm>
#include <utility>

#include "diagnostics/text.h"

namespace lagline {
namespace {

Diagnostic diagnostic_of(WorkbookFault fault, Place where) {
    return {.problem = Problem::damaged_workbook,
            .where = std::move(where),
            .subject = "",
            .found = std::move(fault.found),
            .expected = std::move(fault.expected),
            .mend = std::move(fault.mend),
            .excerpt = {}};
}

Place place_in(const std::string& file, const std::string& sheet, CellReference cell) {
    return {file, static_cast<int>(cell.row), static_cast<int>(cell.column), sheet};
}

void add_problem(Report& report, Place where, CellText problem) {
    report.add({.problem = problem.damaged ? Problem::damaged_workbook : Problem::unreadable_cell,
                .where = std::move(where),
                .subject = "",
                .found = std::move(problem.problem),
                .expected = std::move(problem.expected),
                .mend = std::move(problem.mend),
                .excerpt = {}});
}

std::string name_of(CellReference cell) {
    return column_letters(static_cast<int>(cell.column)) + std::to_string(cell.row);
}

// What a merged cell stands for in the cells that it covers only its author knows.
void add_merged(Report& report, const Place& where, const CellRange& range) {
    report.add({.problem = Problem::merged_cells,
                .where = where,
                .subject = "",
                .found = "merged cells " + name_of(range.first) + ":" + name_of(range.last),
                .expected = "one cell for each row and column",
                .mend = "split the merged cells and fill in each of them",
                .excerpt = {}});
}

void add_hidden(Report& report, Place where, const std::string& what) {
    report.add({.severity = Severity::warning,
                .problem = Problem::hidden_cells,
                .where = std::move(where),
                .subject = "",
                .found = what + ", read like the others",
                .expected = "a sheet that shows what is read",
                .mend = "show what is meant to be read; delete what is not",
                .excerpt = {}});
}

std::string many(std::size_t count, std::string_view what) {
    const std::string text = std::to_string(count) + " " + std::string{what};
    return count == 1 ? text : text + "s, this the first";
}

void add_hidden(Report& report, const std::string& file, const WorkbookSheet& sheet,
                const SheetFacts& facts) {
    if (sheet.hidden) add_hidden(report, {file, 0, 0, sheet.name}, "a hidden sheet");
    if (facts.hidden_rows > 0) {
        add_hidden(report, place_in(file, sheet.name, {facts.first_hidden_row, 0}),
                   many(facts.hidden_rows, "hidden row"));
    }
    if (facts.hidden_columns > 0) {
        add_hidden(report, place_in(file, sheet.name, {1, facts.first_hidden_column}),
                   many(facts.hidden_columns, "hidden column"));
    }
}

// The first relation of a type; empty when there is none.
std::string part_of_type(const Relationships& relations, std::string_view type) {
    for (const auto& [id, relation] : relations) {
        if (relation.type == type) return relation.part;
    }
    return "";
}

}  // namespace

Workbook::Workbook(std::string bytes, std::string shown, const WorkbookLimits& limits)
    : shown_(std::move(shown)),
      limits_(limits),
      bytes_(std::make_unique<const std::string>(std::move(bytes))) {}

std::optional<Workbook> Workbook::open(std::string bytes, const std::string& shown, Report& report,
                                       const WorkbookLimits& limits) {
    Workbook workbook{std::move(bytes), shown, limits};
    auto fault = workbook.read_parts();
    if (!fault) return workbook;
    report.add(diagnostic_of(std::move(*fault), {shown, 0, 0}));
    return std::nullopt;
}

std::optional<WorkbookFault> Workbook::read_parts() {
    if (bytes_->size() > limits_.file_bytes) {
        return too_much("a file of " + std::to_string(bytes_->size() >> 20) + " MiB",
                        "at most " + std::to_string(limits_.file_bytes >> 20) + " MiB");
    }
    archive_ = std::make_unique<ZipArchive>(*bytes_, limits_);
    if (archive_->fault()) return archive_->fault();
    const PartReading with{*archive_, limits_};
    Relationships roots;
    if (auto fault = read_relationships(with, "", roots)) return fault;
    const std::string part = part_of_type(roots, "officeDocument");
    if (part.empty()) return damaged("an archive that holds no workbook");
    WorkbookContents contents;
    if (auto fault = read_contents(with, part, contents)) return fault;
    dates_ = contents.dates;
    return read_beside(part, contents);
}

std::optional<WorkbookFault> Workbook::read_beside(const std::string& workbook_part,
                                                   const WorkbookContents& contents) {
    const PartReading with{*archive_, limits_};
    Relationships relations;
    if (auto fault = read_relationships(with, workbook_part, relations)) return fault;
    for (const ListedSheet& sheet : contents.sheets) {
        const auto relation = relations.find(sheet.relation);
        if (relation == relations.end() || !archive_->has(relation->second.part)) {
            return damaged("no part for the sheet '" + printable(sheet.name) + "'");
        }
        if (relation->second.type != "worksheet") continue;  // a chart
        sheets_.push_back({sheet.name, relation->second.part, sheet.hidden});
    }
    if (sheets_.empty()) return damaged("a workbook without a sheet of cells");
    if (const auto part = part_of_type(relations, "sharedStrings"); !part.empty()) {
        if (auto fault = read_shared_texts(with, part, shared_)) return fault;
    }
    if (const auto part = part_of_type(relations, "styles"); !part.empty()) {
        if (auto fault = read_styles(with, part, styles_)) return fault;
    }
    return std::nullopt;
}

bool Workbook::read(const WorkbookSheet& sheet, const TakeRow& take_row, Report& report) {
    Report found;
    SheetFacts facts;
    const auto take_problem = [&](CellReference where, CellText problem) {
        add_problem(found, place_in(shown_, sheet.name, where), std::move(problem));
    };
    auto fault = read_sheet_part({*archive_, limits_}, sheet.part, {shared_, styles_, dates_},
                                 take_row, take_problem, facts);
    const bool table = !fault && facts.merged.empty();
    if (fault) found.add(diagnostic_of(std::move(*fault), {shown_, 0, 0, sheet.name}));
    for (const CellRange& range : facts.merged) {
        add_merged(found, place_in(shown_, sheet.name, range.first), range);
    }
    add_hidden(found, shown_, sheet, facts);
    report.merge(std::move(found));
    return table;
}

}  // namespace lagline
