#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "intake/load_plant.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The shipped sets, each loaded once.
/// @throws std::runtime_error  with the whole report, when one does not load
[[nodiscard]] const RuleSet& shipped_published();
[[nodiscard]] const RuleSet& shipped_extended();

/// Code of a word that must be there.
[[nodiscard]] std::uint8_t word_code(const RuleSet& rules, std::string_view vocabulary,
                                     std::string_view word);

/// Cells of a row by heading, as a person writes them; an empty text leaves the cell empty.
using RowCells = std::map<std::string, std::string, std::less<>>;

/// A segment of invented NPS 6 carbon steel pipe, bare, continuously at 70 degC, driver moderate,
/// in service since 2005-01-01, with `changes` on top.
[[nodiscard]] RowCells made_segment(std::string_view name, const RowCells& changes = {});

/// An inspection by strip_and_measure over the whole surface, with `changes` on top.
[[nodiscard]] RowCells made_inspection(std::string_view segment, std::string_view date,
                                       const RowCells& changes = {});

/// Twelve equal months: temperature, humidity, and a twelfth of the rain.
[[nodiscard]] Climate even_climate(double air_degc, double humidity_percent, double rain_mm);

struct MadePlant {
    std::vector<RowCells> segments;
    std::vector<RowCells> inspections = {};
    PlantDescription description = {};
    std::map<std::string, PlantDefault, std::less<>> defaults = {};
    Date at = make_date(2025, 1, 1);
};

/// The plant, read by the same intake as a folder.
/// @throws std::runtime_error  with the whole report, when there is an error
[[nodiscard]] Plant read_made(const MadePlant& made, const RuleSet& rules);

/// Row of the ranking for a segment that must be ranked.
[[nodiscard]] Eigen::Index row_of(const Plant& plant, const Ranking& ranking,
                                  std::string_view segment);
/// Its rank, from 1.
[[nodiscard]] std::size_t rank_of(const Plant& plant, const Ranking& ranking,
                                  std::string_view segment);

}  // namespace lagline
