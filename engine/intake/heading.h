#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "intake/csv.h"
#include "intake/sheet_reader.h"
#include "quantity/pipe_size.h"

namespace lagline {

/// How one column of the file is to be read.
struct ColumnPlan {
    const FieldInfo* field = nullptr;  ///< nothing for a column of the site's own
    std::size_t field_index = 0;
    std::optional<std::size_t> site_index;  ///< into Sheet::site_columns, of a column of the site
    std::string heading;                    ///< as the file has it
    std::size_t offset = 0;                 ///< byte of the heading
    std::optional<Unit> unit;               ///< of the heading
    bool unit_refused = false;              ///< the heading has a unit, but not one that will do
    Unit stored;                            ///< unit of storage
    std::optional<SizeSystem> size_system;
    std::unordered_map<std::string_view, std::uint8_t> words;
    bool ignored = false;  ///< one of two columns of a name, which has been reported
};

/// "nominal_wall [mm]" in its parts.
struct SplitHeading {
    std::string key;
    std::optional<std::string> unit;
};
[[nodiscard]] SplitHeading split_heading(std::string_view heading);

/// A unit of `dimension`, money turned into the plant's currency.
struct UnitLookup {
    std::optional<Unit> unit;
    std::string problem;  ///< why there is none, when the reason is not an unknown symbol
};
[[nodiscard]] UnitLookup find_unit(std::string_view symbol, Dimension dimension,
                                   const PlantMoney& money);

/// The plan for reading a text as a cell of `field`, without a heading of its own.
[[nodiscard]] ColumnPlan plan_of(const FieldInfo& field, std::size_t index, const RuleSet& rules,
                                 const PlantMoney& money);

/// The heading record that the fields have by themselves, with its line end.
[[nodiscard]] std::string heading_line(std::span<const FieldInfo> fields);

/// Adds the words of a site to those of a column.
void add_site_words(ColumnPlan& plan, const ColumnMap& map);

/// Reads the heading record into plans, one per file column, sets file_column and makes room for
/// the columns of `sheet` (whose row count is set); their cells are to be cleared.  Reports
/// doubled, unknown and missing columns, and units that do not fit.
[[nodiscard]] std::vector<ColumnPlan> read_headings(Sheet& sheet, const std::vector<CsvCell>& cells,
                                                    const SheetContext& context, Report& report);

/// True when the heading record is not one that read_headings() can make anything of: fields apart
/// by semicolons or tabs, or no heading of ours at all.  Says so once, in place of a finding for
/// each column.
[[nodiscard]] bool refuse_heading(const Sheet& sheet, const std::vector<CsvCell>& cells,
                                  const ColumnMap& map, Report& report);

}  // namespace lagline
