#include "extended/made_plant.h"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "intake/source_file.h"
#include "ranking/explain.h"

namespace lagline {
namespace {

RuleSet load_shipped(const std::string& name) {
    LoadedRules loaded = load_rules(LAGLINE_SOURCE_DIR "/rules", name);
    if (!loaded.rules) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.rules);
}

RowCells with(RowCells cells, const RowCells& changes) {
    for (const auto& [key, text] : changes) cells[key] = text;
    return cells;
}

// No cell of these tests holds a comma or a quote.
std::optional<SourceText> as_csv(const std::vector<RowCells>& rows, const std::string& name,
                                 Report& report) {
    if (rows.empty()) return std::nullopt;
    std::set<std::string> headings;
    for (const RowCells& row : rows) {
        for (const auto& cell : row) headings.insert(cell.first);
    }
    std::string csv;
    for (const std::string& heading : headings) csv += heading + ",";
    csv.back() = '\n';
    for (const RowCells& row : rows) {
        for (const std::string& heading : headings) {
            const auto cell = row.find(heading);
            csv += (cell == row.end() ? std::string{} : cell->second) + ",";
        }
        csv.back() = '\n';
    }
    return source_from_text(csv, name, report);
}

}  // namespace

const RuleSet& shipped_published() {
    static const RuleSet rules = load_shipped("published");
    return rules;
}

const RuleSet& shipped_extended() {
    static const RuleSet rules = load_shipped("extended");
    return rules;
}

std::uint8_t word_code(const RuleSet& rules, std::string_view vocabulary, std::string_view word) {
    return rules.vocabulary(vocabulary).code(word).value();
}

RowCells made_segment(std::string_view name, const RowCells& changes) {
    return with({{"segment", std::string{name}},
                 {"line", "L-1"},
                 {"unit", "U-1"},
                 {"material", "carbon_steel"},
                 {"nominal_size", "NPS 6"},
                 {"nominal_wall", "7.11 mm"},
                 {"in_service", "2005-01-01"},
                 {"operating_temperature", "70 degC"},
                 {"service", "continuous"},
                 {"insulation_type", "mineral_wool"},
                 {"insulation_thickness", "50 mm"},
                 {"insulation_condition", "average"},
                 {"complexity", "average"},
                 {"jacket", "aluminium"},
                 {"driver", "moderate"},
                 {"coating_system", "none"},
                 {"coating_quality", "none"},
                 {"coating_substrate_prep", "sp10_near_white_blast"},
                 {"yard_storage", "0 month"},
                 {"consequence_category", "C"}},
                changes);
}

RowCells made_inspection(std::string_view segment, std::string_view date, const RowCells& changes) {
    return with({{"segment", std::string{segment}},
                 {"date", std::string{date}},
                 {"technique", "strip_and_measure"},
                 {"coverage", "100 %"}},
                changes);
}

Climate even_climate(double air_degc, double humidity_percent, double rain_mm) {
    Climate climate;
    climate.mean_temperature_degc.fill(air_degc);
    climate.relative_humidity_percent.fill(humidity_percent);
    climate.rainfall_mm.fill(rain_mm / 12.0);
    return climate;
}

Plant read_made(const MadePlant& made, const RuleSet& rules) {
    Report report;
    PlantSources sources;
    sources.file = {made.description, made.defaults};
    sources.segments = as_csv(made.segments, "segments.csv", report);
    sources.inspections = as_csv(made.inspections, "inspections.csv", report);
    const LoadOptions options{made.at, made.at, {64, 1, nullptr}};
    LoadedPlant loaded = assemble_plant(std::move(sources), rules, options, std::move(report));
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

Eigen::Index row_of(const Plant& plant, const Ranking& ranking, std::string_view segment) {
    return static_cast<Eigen::Index>(find_row(plant, ranking, segment).value());
}

std::size_t rank_of(const Plant& plant, const Ranking& ranking, std::string_view segment) {
    const std::uint32_t row = find_row(plant, ranking, segment).value();
    const auto place = std::ranges::find(ranking.order, row) - ranking.order.begin();
    return static_cast<std::size_t>(place) + 1;
}

}  // namespace lagline
