#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "intake/load_plant.h"

namespace lagline {

/// A row of a filled sheet that holds no finding.
struct BlankRow {
    std::uint32_t line = 0;
    std::string segment;
};

/// A sheet of findings that was filled in, checked against the plant it is for.
struct FilledSheet {
    Report report;                ///< of the sheet, and errors of the plant
    InspectionSheet sheet;        ///< the rows that are filled
    std::vector<BlankRow> blank;  ///< not yet recorded
    std::string added;            ///< bytes to put behind those of inspections.csv
    /// The plant with the findings; nothing where something is wrong or no row is filled.
    std::optional<Plant> plant;

    FilledSheet() : sheet(inspection_fields()) {}
    /// What `found` says of the rows that were added, at their places in the filled sheet.
    [[nodiscard]] Report of_added(const Report& found) const;
};

/// Reads a filled sheet as inspections.csv is read, and checks it as such; beyond that, days after
/// today and inspections that stand already in inspections.csv, or twice in the sheet, are
/// refused.  Rows with nothing but what `plan --format findings` fills in are left out.  Nothing is
/// written.
/// @param sources  of the plant
/// @param filled   the sheet
[[nodiscard]] FilledSheet check_filled(const PlantSources& sources, const SourceText& filled,
                                       const RuleSet& rules, const LoadOptions& options);

}  // namespace lagline
