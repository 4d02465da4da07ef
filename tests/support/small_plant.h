#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "intake/load_plant.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Cells of a row by heading, as a person writes them: {"nominal_wall", "7.11 mm"}.
using Cells = std::map<std::string, std::string, std::less<>>;

/// A segment of invented NPS 6 carbon steel pipe in which nothing is left to a default, with
/// `changes` on top; an empty text empties the cell.
[[nodiscard]] Cells segment_cells(std::string_view name, const Cells& changes = {});

/// An inspection by strip_and_measure that reads nothing, with `changes` on top.
[[nodiscard]] Cells inspection_cells(std::string_view segment, std::string_view date,
                                     const Cells& changes = {});

/// Rows as CSV: a heading of every key that any row has, then the rows.
[[nodiscard]] std::string csv_of(const std::vector<Cells>& rows);

/// What a small plant is made of.
struct SmallPlant {
    std::vector<Cells> segments;
    std::vector<Cells> inspections = {};
    std::vector<Cells> overrides = {};
    std::vector<Cells> turnarounds = {};
    PlantDescription description = {};
    std::map<std::string, PlantDefault, std::less<>> defaults = {};
    Date at = make_date(2025, 1, 1);
};

/// Assembled by the same intake as a plant folder.
/// @throws std::runtime_error  with the whole report, when there is an error
[[nodiscard]] Plant assemble(const SmallPlant& small, const RuleSet& rules);

/// The sample plant at 2027-04-05, the start of its first turnaround.
[[nodiscard]] Plant sample_plant(const RuleSet& rules, const WorkPlan& plan = {});

}  // namespace lagline
