#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "intake/column_map.h"
#include "intake/days_checked.h"
#include "intake/links.h"
#include "intake/plant_yaml.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

struct LoadOptions {
    std::optional<Date> at;  ///< date to rank at; else plant.yaml, else the window after the next
    Date today;              ///< what "next" and today's rank are counted from
    WorkPlan plan;
    /// Takes back cells of segments.csv after overrides and before defaults; they are then filled
    /// like cells that the file left empty.
    std::function<void(Plant&)> forget = {};
    /// An open descriptor that gives the rows of segments.csv, or a part of them, in place of the
    /// file of the folder.  Inspections and overrides of segments that are not among them are
    /// passed over and counted: see LoadedPlant::passed_over.
    std::optional<int> segments_from = {};
    /// `not_at_all` for a plant as known on a past day: what is dated after `today` then belongs to
    /// the caller, and is no fault.
    DaysChecked days = DaysChecked::against_today;
};

/// The plant when there was no error, and everything found on the way.
struct [[nodiscard]] LoadedPlant {
    std::optional<Plant> plant;
    Report report;
    std::optional<PassedOver> passed_over = {};  ///< only of LoadOptions::segments_from
};

/// Reads a plant folder: plant.yaml and segments.csv, which it must have; inspections.csv,
/// turnarounds.csv, overrides.csv and columns.yaml, which it may have.  Each CSV file may be a
/// workbook (.xlsx) of the same name instead, or a sheet of plant.xlsx.  All problems of all files
/// are in the one report.  Cells that are empty take the value derived from other columns, the
/// default of plant.yaml, or that of the rule set, in this order, and say so in their state.
LoadedPlant load_plant(const std::filesystem::path& folder, const RuleSet& rules,
                       const LoadOptions& options);

/// A plant that is already in memory: what load_plant() reads from the files.
struct PlantSources {
    std::string folder;
    PlantFile file;
    ColumnMaps maps;
    std::optional<SourceText> segments;
    std::optional<SourceText> inspections;
    std::optional<SourceText> turnarounds;
    std::optional<SourceText> overrides;
    bool in_parts = false;  ///< `segments` may lack some that the other tables name
};
/// Reads the files of a plant folder without looking into the tables; problems go to `report`.
/// Nothing comes back when there is no such folder.
/// @param options  of which only the source of the segments and the plan of work are looked at
[[nodiscard]] std::optional<PlantSources> read_plant_sources(const std::filesystem::path& folder,
                                                             const RuleSet& rules, Report& report,
                                                             const LoadOptions& options = {});
LoadedPlant assemble_plant(PlantSources sources, const RuleSet& rules, const LoadOptions& options,
                           Report report);

}  // namespace lagline
