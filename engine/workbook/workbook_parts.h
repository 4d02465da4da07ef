#pragma once

#include <map>
#include <string>
#include <vector>

#include "workbook/number_format.h"
#include "workbook/serial_date.h"
#include "workbook/xml_parser.h"

namespace lagline {

/// A part that another part names, by the id it has there.
struct Relationship {
    std::string type;  ///< last word of its type: "worksheet", "sharedStrings", "styles"
    std::string part;  ///< path in the archive
};
using Relationships = std::map<std::string, Relationship, std::less<>>;

/// What a part of the workbook is read with.
struct PartReading {
    ZipArchive& archive;
    const WorkbookLimits& limits;
};

/// The relations of `part`: of the archive itself when `part` is empty.
[[nodiscard]] std::optional<WorkbookFault> read_relationships(const PartReading& with,
                                                              const std::string& part,
                                                              Relationships& into);

/// A sheet as the workbook lists it.
struct ListedSheet {
    std::string name;
    std::string relation;  ///< id into the relations of the workbook
    bool hidden = false;
};

/// The list of sheets and what the days are counted from.
struct WorkbookContents {
    std::vector<ListedSheet> sheets;
    DateSystem dates = DateSystem::from_1900;
};
[[nodiscard]] std::optional<WorkbookFault> read_contents(const PartReading& with,
                                                         const std::string& part,
                                                         WorkbookContents& into);

/// What a number means, by the style of its cell.
using CellStyles = std::vector<NumberMeaning>;
[[nodiscard]] std::optional<WorkbookFault> read_styles(const PartReading& with,
                                                       const std::string& part, CellStyles& into);

/// An unsigned number of an attribute; nothing when it is none.
[[nodiscard]] std::optional<std::uint32_t> parse_count(std::string_view text);

}  // namespace lagline
