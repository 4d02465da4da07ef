#include "intake/table_files.h"

#include <algorithm>
#include <memory>
#include <utility>
#include <vector>

#include "blocks/csv_cell.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/file_bytes.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view whole_name = "plant.xlsx";

// What exists but is no readable file is still reported, when it is read.
bool is_there(const fs::path& path) {
    std::error_code ignored;
    return fs::exists(fs::symlink_status(path, ignored));
}

std::optional<Workbook> open_workbook(const fs::path& path, Report& report) {
    auto bytes = read_bytes(path, path.string(), report);
    if (!bytes) return std::nullopt;
    if (bytes->empty()) {
        report.add({.problem = Problem::empty_file,
                    .where = {path.string(), 0, 0},
                    .subject = "",
                    .found = "an empty file",
                    .expected = "a workbook",
                    .mend = "fill the file, or remove it if it is optional",
                    .excerpt = {}});
        return std::nullopt;
    }
    return Workbook::open(std::move(*bytes), path.string(), report);
}

// Names of sheets are the same whatever their case, as for a spreadsheet.
const WorkbookSheet* find_sheet(const Workbook& workbook, std::string_view table) {
    for (const WorkbookSheet& sheet : workbook.sheets()) {
        if (ascii_lower(trimmed(sheet.name)) == table) return &sheet;
    }
    return nullptr;
}

std::string names_of(const Workbook& workbook) {
    std::vector<std::string_view> names;
    for (const WorkbookSheet& sheet : workbook.sheets()) names.push_back(sheet.name);
    return printable(listing(names, 20), 400);
}

// Makes CSV of the rows of a sheet.
class SheetText {
  public:
    explicit SheetText(std::string sheet) { grid_.sheet = std::move(sheet); }

    // False when the text becomes too much.
    bool add(std::uint32_t row, std::span<const SheetCell> cells) {
        static constexpr std::size_t most_bytes = WorkbookLimits{}.text_bytes;
        grid_.offsets.push_back(text_.size());
        grid_.rows.push_back(row);
        std::uint32_t column = 1;
        for (const SheetCell& cell : cells) {
            text_.append(cell.column - column, ',');
            column = cell.column;
            append_csv_cell(text_, cell.text);
            if (text_.size() > most_bytes) return false;
        }
        // Empty cells at the end of a row are as good as those of the columns before.
        if (width_ == 0) width_ = column;
        if (column < width_) text_.append(width_ - column, ',');
        text_ += '\n';
        return text_.size() <= most_bytes;
    }

    [[nodiscard]] bool empty() const { return text_.empty(); }

    [[nodiscard]] SourceText take(const std::string& shown) {
        SourceText source = source_of(std::move(text_), shown);
        source.grid = std::make_shared<const SheetGrid>(std::move(grid_));
        return source;
    }

  private:
    std::string text_;
    SheetGrid grid_;
    std::uint32_t width_ = 0;  ///< columns of the first row: the headings
};

void add_unread(Report& report, const Workbook& workbook, const WorkbookSheet& sheet,
                const std::vector<std::string_view>& read) {
    const std::string meant = did_you_mean(ascii_lower(sheet.name), read);
    report.add({.severity = Severity::warning,
                .problem = Problem::unknown_sheet,
                .where = {workbook.shown(), 0, 0, sheet.name},
                .subject = "",
                .found = "a sheet that is not read",
                .expected = "a sheet named " + listing(read, 20),
                .mend = meant.empty() ? "nothing, if it holds no table of the plant" : meant,
                .excerpt = {}});
}

void refuse_doubled(Report& report, const fs::path& folder, std::string_view table,
                    const std::vector<std::string>& files) {
    std::string found;
    for (const std::string& file : files) found += (found.empty() ? "" : " and ") + file;
    report.add({.problem = Problem::doubled_file,
                .where = {folder.string(), 0, 0},
                .subject = std::string{table},
                .found = found,
                .expected = "one of them: which holds is not for a program to guess",
                .mend = "remove or rename the one that does not hold",
                .excerpt = {}});
}

}  // namespace

TableFiles::TableFiles(fs::path folder, Report& report, const WorkPlan& plan)
    : folder_(std::move(folder)), report_(report), plan_(plan) {
    const fs::path path = folder_ / whole_name;
    if (!is_there(path)) return;
    whole_ = open_workbook(path, report_);
    whole_refused_ = !whole_;
}

std::optional<SourceText> TableFiles::read(std::string_view table, bool needed) {
    asked_.emplace(table);
    const fs::path csv = folder_ / (std::string{table} + ".csv");
    const fs::path xlsx = folder_ / (std::string{table} + ".xlsx");
    const WorkbookSheet* sheet = whole_ ? find_sheet(*whole_, table) : nullptr;
    std::vector<std::string> files;
    if (is_there(csv)) files.push_back(csv.filename().string());
    if (is_there(xlsx)) files.push_back(xlsx.filename().string());
    if (sheet != nullptr) {
        files.push_back("the sheet " + printable(sheet->name) + " of " + std::string{whole_name});
    }
    if (files.size() > 1) {
        refuse_doubled(report_, folder_, table, files);
        return std::nullopt;
    }
    if (sheet != nullptr) return text_of(*whole_, *sheet);
    if (is_there(xlsx)) return read_workbook(xlsx, table);
    // A workbook that could not be opened may well hold the table.
    if (!is_there(csv) && (!needed || whole_refused_)) return std::nullopt;
    return read_source(csv, csv.string(), report_, plan_);
}

void TableFiles::report_unread() const {
    if (!whole_) return;
    const std::vector<std::string_view> tables{asked_.begin(), asked_.end()};
    for (const WorkbookSheet& sheet : whole_->sheets()) {
        const std::string name = ascii_lower(trimmed(sheet.name));
        if (!asked_.contains(name)) add_unread(report_, *whole_, sheet, tables);
    }
}

std::optional<SourceText> TableFiles::read_workbook(const fs::path& path, std::string_view table) {
    auto workbook = open_workbook(path, report_);
    if (!workbook) return std::nullopt;
    const WorkbookSheet* sheet = find_sheet(*workbook, table);
    if (sheet == nullptr && workbook->sheets().size() == 1) sheet = &workbook->sheets().front();
    if (sheet == nullptr) {
        report_.add({.problem = Problem::unknown_sheet,
                     .where = {path.string(), 0, 0},
                     .subject = std::string{table},
                     .found = "the sheets " + names_of(*workbook),
                     .expected = "one sheet, or one that is named " + std::string{table},
                     .mend = "name the sheet that holds the table " + std::string{table},
                     .excerpt = {}});
        return std::nullopt;
    }
    for (const WorkbookSheet& other : workbook->sheets()) {
        if (&other != sheet) add_unread(report_, *workbook, other, {table});
    }
    return text_of(*workbook, *sheet);
}

std::optional<SourceText> TableFiles::text_of(Workbook& workbook, const WorkbookSheet& sheet) {
    SheetText text{sheet.name};
    const auto take = [&text](std::uint32_t row, std::span<const SheetCell> cells) {
        return text.add(row, cells);
    };
    if (!workbook.read(sheet, take, report_)) return std::nullopt;
    if (!text.empty()) return text.take(workbook.shown());
    report_.add({.problem = Problem::empty_file,
                 .where = {workbook.shown(), 0, 0, sheet.name},
                 .subject = "",
                 .found = "an empty sheet",
                 .expected = "a heading and rows",
                 .mend = "fill the sheet, or remove it if it is optional",
                 .excerpt = {}});
    return std::nullopt;
}

}  // namespace lagline
