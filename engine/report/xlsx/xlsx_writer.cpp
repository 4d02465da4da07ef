#include "report/xlsx/xlsx_writer.h"

#include <xlsxwriter.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iterator>
#include <limits>
#include <map>
#include <memory>
#include <span>

#include "blocks/number_text.h"
#include "blocks/scratch_folder.h"
#include "diagnostics/text.h"
#include "report/own_output.h"
#include "workbook/workbook.h"

namespace lagline {
namespace {

constexpr std::size_t narrowest = 8;
constexpr std::size_t widest = 48;
constexpr std::size_t number_width = 12;
constexpr std::size_t money_width = 16;
constexpr std::size_t filter_width = 3;  // the button in the heading

struct FormatRow {
    std::string_view unit;
    std::string_view code;
};
constexpr std::array<FormatRow, 11> formats_by_unit{{{"mm", "0.00"},
                                                     {"mm/y", "0.0000"},
                                                     {"degC", "0.0"},
                                                     {"K", "0.0"},
                                                     {"MPa", "0.0"},
                                                     {"y", "0.0"},
                                                     {"%", "0.0"},
                                                     {"m", "0.0"},
                                                     {"h", "0.0"},
                                                     {"W/m", "0.0"},
                                                     {"1/y", "0.00E+00"}}};

// The first fault of the library: what comes after it would only be a consequence.
class Faults {
  public:
    void see(lxw_error error) {
        if (error != LXW_NO_ERROR && problem_.empty()) problem_ = ::lxw_strerror(error);
    }
    void see(const std::string& problem) {
        if (problem_.empty()) problem_ = problem;
    }
    [[nodiscard]] const std::string& problem() const { return problem_; }

  private:
    std::string problem_;
};

/// The formats of a workbook, each made once.
class Formats {
  public:
    explicit Formats(lxw_workbook& workbook)
        : workbook_(workbook), heading_(::workbook_add_format(&workbook)) {
        ::format_set_bold(heading_);
        ::format_set_text_wrap(heading_);
        ::format_set_align(heading_, LXW_ALIGN_VERTICAL_TOP);
        ::format_set_bottom(heading_, LXW_BORDER_THIN);
    }
    [[nodiscard]] lxw_format* heading() const { return heading_; }
    [[nodiscard]] lxw_format* of(const OutputColumn& column) {
        const std::string code{number_format_of(column)};
        if (code.empty()) return nullptr;
        auto& made = by_code_[code];
        if (made == nullptr) {
            made = ::workbook_add_format(&workbook_);
            ::format_set_num_format(made, code.c_str());
        }
        return made;
    }

  private:
    lxw_workbook& workbook_;
    lxw_format* heading_;
    std::map<std::string, lxw_format*> by_code_;
};

/// Writes the cells of one sheet, row by row.
class SheetCells : public TableCells {
  public:
    SheetCells(lxw_worksheet& sheet, std::vector<lxw_format*> formats, Faults& faults)
        : sheet_(sheet), formats_(std::move(formats)), widths_(formats_.size()), faults_(faults) {}

    void start_row(lxw_row_t row) {
        row_ = row;
        column_ = 0;
    }
    void text(std::string_view text) override {
        // An empty text would make a cell that counts as filled.
        if (text.empty()) return empty();
        const std::string owned = with_escapes(text);
        see_width(display_width(text));
        see(::worksheet_write_string(&sheet_, row_, column_, owned.c_str(), format()));
        ++column_;
    }
    void count(std::size_t count) override { number(static_cast<double>(count)); }
    void number(double number) override {
        // The format has no infinity: as a text it is at least not taken for a number.
        if (!std::isfinite(number)) return text(exact_number(number));
        see(::worksheet_write_number(&sheet_, row_, column_, number, format()));
        ++column_;
    }
    void date(Date date) override {
        // Days since 1899-12-30 are the day numbers of a workbook from 1900-03-01 on.
        static constexpr Date first = make_date(1900, 3, 1);
        static constexpr Date zero = make_date(1899, 12, 30);
        if (date < first) return text(to_string(date));
        number(static_cast<double>(date.days - zero.days));
    }
    void empty() override { ++column_; }

    [[nodiscard]] std::size_t text_width(std::size_t column) const { return widths_[column]; }

  private:
    [[nodiscard]] lxw_format* format() const { return formats_[column_]; }
    void see(lxw_error error) { faults_.see(error); }
    void see_width(std::size_t width) { widths_[column_] = std::max(widths_[column_], width); }

    lxw_worksheet& sheet_;
    std::vector<lxw_format*> formats_;
    std::vector<std::size_t> widths_;
    Faults& faults_;
    lxw_row_t row_ = 0;
    lxw_col_t column_ = 0;
};

std::size_t width_of(const OutputColumn& column, std::size_t text_width) {
    std::size_t width = std::max(text_width, narrowest);
    if (column.kind == CellKind::number || column.kind == CellKind::date) width = number_width;
    if (column.kind == CellKind::money) width = money_width;
    // Long headings go into two lines.
    const std::size_t heading = display_width(column.heading) * 2 / 3 + filter_width;
    return std::clamp(std::max(width, heading), narrowest, widest);
}

void write_sheet(lxw_workbook& workbook, const OutputSheet& sheet, Formats& formats,
                 Faults& faults) {
    const OutputTable& table = *sheet.table;
    const auto columns = table.columns();
    if (table.rows() >= last_sheet_row) {
        return faults.see(std::to_string(table.rows()) + " rows for the sheet " + sheet.name +
                          ", which holds " + std::to_string(last_sheet_row - 1) +
                          " below its heading; take CSV, or --top N");
    }
    lxw_worksheet* made = ::workbook_add_worksheet(&workbook, sheet.name.c_str());
    if (made == nullptr) return faults.see("no sheet can be named " + sheet.name);
    SheetCells headings{*made, std::vector<lxw_format*>(columns.size(), formats.heading()), faults};
    std::vector<lxw_format*> by_column;
    for (const OutputColumn& column : columns) {
        headings.text(column.heading);
        by_column.push_back(formats.of(column));
    }
    SheetCells cells{*made, std::move(by_column), faults};
    for (std::size_t row = 0; row < table.rows() && faults.problem().empty(); ++row) {
        cells.start_row(static_cast<lxw_row_t>(row + 1));
        table.write_row(row, cells);
    }
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const auto at = static_cast<lxw_col_t>(i);
        const auto width = static_cast<double>(width_of(columns[i], cells.text_width(i)));
        faults.see(::worksheet_set_column(made, at, at, width, nullptr));
    }
    ::worksheet_freeze_panes(made, 1, 0);
    faults.see(::worksheet_autofilter(made, 0, 0, static_cast<lxw_row_t>(table.rows()),
                                      static_cast<lxw_col_t>(columns.size() - 1)));
}

void set_title(lxw_workbook& workbook, const WorkbookTitle& title, Faults& faults) {
    std::string name = title.title;
    std::string subject = title.subject;
    lxw_doc_properties properties{};
    properties.title = name.data();
    properties.subject = subject.data();
    std::string mark{workbook_mark};
    properties.comments = mark.data();
    // 0 would be taken for "not given", and the clock asked.
    properties.created = std::max<time_t>(1, static_cast<time_t>(title.made.days) * 86'400);
    faults.see(::workbook_set_properties(&workbook, &properties));
}

// A part may then pass the 4 GiB of a plain archive; smaller ones are left readable to everybody.
bool is_large(const std::vector<OutputSheet>& sheets) {
    constexpr std::size_t many_cells = 20'000'000;
    return std::ranges::any_of(sheets, [](const OutputSheet& sheet) {
        return sheet.table->rows() * sheet.table->columns().size() > many_cells;
    });
}

std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

// The library does not look whether its temporary files could be written.
std::string read_again(const std::string& bytes, const std::vector<OutputSheet>& sheets) {
    constexpr auto any = std::numeric_limits<std::size_t>::max();
    Report report;
    auto workbook = Workbook::open(bytes, "", report,
                                   {.file_bytes = any,
                                    .unpacked_bytes = any,
                                    .ratio = any,
                                    .ratio_from_bytes = any,
                                    .text_bytes = any});
    bool whole = workbook && workbook->sheets().size() == sheets.size();
    for (std::size_t i = 0; whole && i < sheets.size(); ++i) {
        std::size_t rows = 0;
        const auto count = [&rows](std::uint32_t, std::span<const SheetCell>) {
            return ++rows > 0;
        };
        whole = workbook->read(workbook->sheets()[i], count, report) && report.ok() &&
                rows == sheets[i].table->rows() + 1;
    }
    return whole ? ""
                 : "the workbook could not be written whole to a temporary file; is the disk full?";
}

}  // namespace

std::string_view number_format_of(const OutputColumn& column) {
    switch (column.kind) {
        case CellKind::text:
            return "";
        case CellKind::count:
            return "0";
        case CellKind::money:
            return "#,##0.00";
        case CellKind::date:
            return "yyyy-mm-dd";
        case CellKind::number:
            break;
    }
    const auto* const known = std::ranges::find(formats_by_unit, column.unit, &FormatRow::unit);
    return known == formats_by_unit.end() ? "General" : known->code;
}

MadeWorkbook make_workbook(const std::vector<OutputSheet>& sheets, const WorkbookTitle& title) {
    const ScratchFolder scratch;
    const std::string file = (scratch.path() / "made.xlsx").string();
    std::string folder = scratch.path().string();
    lxw_workbook_options options{};
    options.constant_memory = LXW_TRUE;
    options.tmpdir = folder.data();
    options.use_zip64 = is_large(sheets) ? LXW_TRUE : LXW_FALSE;
    lxw_workbook* workbook = ::workbook_new_opt(file.c_str(), &options);
    if (workbook == nullptr) return {{}, "no memory for a workbook"};
    Faults faults;
    set_title(*workbook, title, faults);
    Formats formats{*workbook};
    for (const OutputSheet& sheet : sheets) write_sheet(*workbook, sheet, formats, faults);
    faults.see(::workbook_close(workbook));
    if (!faults.problem().empty()) return {{}, faults.problem()};
    MadeWorkbook made{bytes_of(file), {}};
    made.problem = read_again(made.bytes, sheets);
    if (!made.problem.empty()) made.bytes.clear();
    return made;
}

}  // namespace lagline
