#include "support/small_plant.h"

#include <filesystem>
#include <set>
#include <stdexcept>

#include "intake/source_file.h"

namespace lagline {
namespace {

Cells with(Cells cells, const Cells& changes) {
    for (const auto& [key, text] : changes) cells[key] = text;
    return cells;
}

std::string csv_field(std::string_view text) {
    std::string field = "\"";
    for (const char c : text) {
        if (c == '"') field += '"';
        field += c;
    }
    return field + "\"";
}

std::optional<SourceText> source(const std::vector<Cells>& rows, const std::string& name,
                                 Report& report) {
    if (rows.empty()) return std::nullopt;
    return source_from_text(csv_of(rows), name, report);
}

Plant need(LoadedPlant loaded) {
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

}  // namespace

Cells segment_cells(std::string_view name, const Cells& changes) {
    return with({{"segment", std::string{name}},
                 {"line", "L-1"},
                 {"unit", "U-1"},
                 {"material", "carbon_steel"},
                 {"nominal_size", "NPS 6"},
                 {"outside_diameter", "168.3 mm"},
                 {"nominal_wall", "7.11 mm"},
                 {"in_service", "2005-01-01"},
                 {"operating_temperature", "70 degC"},
                 {"insulation_type", "mineral_wool"},
                 {"insulation_condition", "average"},
                 {"complexity", "average"},
                 {"pooling", "no"},
                 {"ground_or_water_interface", "no"},
                 {"driver", "moderate"},
                 {"coating_quality", "medium"},
                 {"coating_date", "2005-01-01"},
                 {"design_pressure", "2 MPa"},
                 {"allowable_stress", "138 MPa"},
                 {"yield_strength", "241 MPa"},
                 {"tensile_strength", "414 MPa"},
                 {"joint_efficiency", "1"},
                 {"corrosion_allowance", "0 mm"},
                 {"data_confidence", "low"},
                 {"consequence_category", "C"}},
                changes);
}

Cells inspection_cells(std::string_view segment, std::string_view date, const Cells& changes) {
    return with({{"segment", std::string{segment}},
                 {"date", std::string{date}},
                 {"technique", "strip_and_measure"},
                 {"coverage", "100 %"}},
                changes);
}

std::string csv_of(const std::vector<Cells>& rows) {
    std::set<std::string_view> headings;
    for (const Cells& row : rows) {
        for (const auto& [key, text] : row) headings.insert(key);
    }
    std::string csv;
    for (const std::string_view heading : headings) csv += csv_field(heading) + ",";
    csv.back() = '\n';
    for (const Cells& row : rows) {
        for (const std::string_view heading : headings) {
            const auto cell = row.find(heading);
            csv +=
                csv_field(cell == row.end() ? std::string_view{} : std::string_view{cell->second}) +
                ",";
        }
        csv.back() = '\n';
    }
    return csv;
}

Plant assemble(const SmallPlant& small, const RuleSet& rules) {
    Report report;
    PlantSources sources;
    sources.file = {small.description, small.defaults};
    sources.segments = source(small.segments, "segments.csv", report);
    sources.inspections = source(small.inspections, "inspections.csv", report);
    sources.overrides = source(small.overrides, "overrides.csv", report);
    sources.turnarounds = source(small.turnarounds, "turnarounds.csv", report);
    const LoadOptions options{small.at, small.at, {.block_rows = 64, .threads = 1}};
    return need(assemble_plant(std::move(sources), rules, options, std::move(report)));
}

Plant sample_plant(const RuleSet& rules, const WorkPlan& plan) {
    const Date at = make_date(2027, 4, 5);
    const auto folder = std::filesystem::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";
    return need(load_plant(folder, rules, {at, at, plan}));
}

}  // namespace lagline
