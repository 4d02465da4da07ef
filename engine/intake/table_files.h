#pragma once

#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"
#include "workbook/workbook.h"

namespace lagline {

/// The tables of a plant folder, each as a CSV file or as a sheet of a workbook: `segments` is
/// segments.csv, segments.xlsx, or the sheet `segments` of plant.xlsx.
class TableFiles {
  public:
    /// Opens plant.xlsx where there is one; problems go to `report`, here and later.
    /// @param plan  threads that read a large table
    TableFiles(std::filesystem::path folder, Report& report, const WorkPlan& plan = {});

    /// The text of a table: that of the CSV file, or CSV made from the cells of the sheet, which
    /// knows the sheet, row and column of each of its cells.  Nothing when there is no such table,
    /// when there is more than one (an error), or when it cannot be read (an error).
    /// @param table   "segments"
    /// @param needed  its absence is an error
    [[nodiscard]] std::optional<SourceText> read(std::string_view table, bool needed);

    /// A table that comes from elsewhere: its sheet of plant.xlsx is not asked for, on purpose.
    void leave_out(std::string_view table) { asked_.emplace(table); }

    /// Warns of sheets of plant.xlsx that no read() has asked for.
    void report_unread() const;

  private:
    [[nodiscard]] std::optional<SourceText> read_workbook(const std::filesystem::path& path,
                                                          std::string_view table);
    [[nodiscard]] std::optional<SourceText> text_of(Workbook& workbook, const WorkbookSheet& sheet);

    std::filesystem::path folder_;
    Report& report_;
    WorkPlan plan_;
    std::optional<Workbook> whole_;             ///< plant.xlsx
    bool whole_refused_ = false;                ///< it is there but cannot be opened
    std::set<std::string, std::less<>> asked_;  ///< tables, for the sheets of plant.xlsx
};

}  // namespace lagline
