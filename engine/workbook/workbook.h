#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "workbook/sheet_parser.h"
#include "workbook/workbook_limits.h"
#include "workbook/zip_archive.h"

namespace lagline {

/// A sheet of cells.
struct WorkbookSheet {
    std::string name;
    std::string part;
    bool hidden = false;
};

/// A workbook (.xlsx, ISO/IEC 29500): its list of sheets, and their cells row by row as text.
class Workbook {
  public:
    /// Opens a workbook that is in memory; nothing, with the reason in `report`, when it is none or
    /// goes beyond the limits.
    /// @param bytes  whole content of the file
    /// @param shown  name used in messages
    [[nodiscard]] static std::optional<Workbook> open(std::string bytes, const std::string& shown,
                                                      Report& report,
                                                      const WorkbookLimits& limits = {});

    /// In the order of the workbook; charts and the like are not among them.
    [[nodiscard]] const std::vector<WorkbookSheet>& sheets() const { return sheets_; }
    [[nodiscard]] const std::string& shown() const { return shown_; }

    /// Reads the cells of a sheet.  Cells without a text (error values, formulas without a value),
    /// which are left out, merged cells and a damaged sheet are errors; hidden rows and columns,
    /// which are read like the others, a warning.
    /// @param take_row  takes the rows that hold something; false when their text is too much
    /// @return  false when what was taken is no table: a damaged sheet, merged cells
    bool read(const WorkbookSheet& sheet, const TakeRow& take_row, Report& report);

  private:
    Workbook(std::string bytes, std::string shown, const WorkbookLimits& limits);
    std::optional<WorkbookFault> read_parts();
    std::optional<WorkbookFault> read_beside(const std::string& workbook_part,
                                             const WorkbookContents& contents);

    std::string shown_;
    WorkbookLimits limits_;
    std::unique_ptr<const std::string> bytes_;  ///< does not move when the workbook does
    std::unique_ptr<ZipArchive> archive_;
    std::vector<WorkbookSheet> sheets_;
    TextList shared_;
    CellStyles styles_;
    DateSystem dates_ = DateSystem::from_1900;
};

}  // namespace lagline
