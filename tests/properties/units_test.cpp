// A plant in degF, in, ft, psi and dollars under a site's own headings is the same plant.
#include <doctest/doctest.h>

#include <cmath>

#include "intake/columns_yaml.h"
#include "intake/source_file.h"
#include "random_plant.h"
#include "support/printed.h"
#include "support/rounds.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

// A number in 17 digits, converted, is off by a few units in the last place: 1e-15.  Eq. 18 makes
// of a relative change of beta (eq. 17) one about beta squared times as large, 40 at most where the
// damage factor is not below that of new pipe; a difference of walls close to each other (eq. 42 to
// 48) may lose two digits.  That is 4e-12.  No table is read at one of its steps, since
// temperatures and sizes are not round.
constexpr double tolerance = 1e-11;

constexpr std::string_view map_of_site = R"(
segments.csv:
  headings:
    "Wall, in": nominal_wall [in]
    "OD, in": outside_diameter [in]
    "Temp F": operating_temperature [degF]
    "Pressure, psig": design_pressure [psig]
    "S, psi": allowable_stress [psi]
    "Yield, psi": yield_strength [psi]
    "Tensile, psi": tensile_strength [psi]
    "Loss, USD": leak_cost [USD]
    "Length, ft": length [ft]
inspections.csv:
  headings:
    "Least, in": least_thickness [in]
    "Pit, mil": pit_depth [mil]
)";

struct Column {
    std::string_view ours;
    std::string_view unit;  ///< of the SI plant
    std::string_view site;
    double (*turn)(double);
};

const std::vector<Column>& columns() {
    static const std::vector<Column> all{
        {"nominal_wall", " mm", "Wall, in", [](double v) { return v / mm_per_inch; }},
        {"outside_diameter", " mm", "OD, in", [](double v) { return v / mm_per_inch; }},
        {"operating_temperature", " degC", "Temp F", [](double v) { return v * 1.8 + 32.0; }},
        {"design_pressure", " MPa", "Pressure, psig", [](double v) { return v / mpa_per_psi; }},
        {"allowable_stress", " MPa", "S, psi", [](double v) { return v / mpa_per_psi; }},
        {"yield_strength", " MPa", "Yield, psi", [](double v) { return v / mpa_per_psi; }},
        {"tensile_strength", " MPa", "Tensile, psi", [](double v) { return v / mpa_per_psi; }},
        {"leak_cost", " EUR", "Loss, USD", [](double v) { return v / 0.92; }},
        {"length", " m", "Length, ft", [](double v) { return v / 0.3048; }},
        {"least_thickness", " mm", "Least, in", [](double v) { return v / mm_per_inch; }},
        {"pit_depth", " mm", "Pit, mil", [](double v) { return v / mm_per_mil; }}};
    return all;
}

std::string digits(double value) {
    std::array<char, 64> text{};
    const int length = std::snprintf(text.data(), text.size(), "%.17g", value);
    return {text.data(), static_cast<std::size_t>(length)};
}

/// The rows as the site keeps them.
std::vector<Cells> as_site(std::vector<Cells> rows) {
    for (Cells& cells : rows) {
        for (const Column& column : columns()) {
            const auto cell = cells.find(column.ours);
            if (cell == cells.end()) continue;
            if (!cell->second.empty()) {
                REQUIRE(cell->second.ends_with(column.unit));
                cells[std::string{column.site}] = digits(column.turn(std::stod(cell->second)));
            }
            cells.erase(std::string{column.ours});
        }
    }
    return rows;
}

std::vector<Ranked> ranked_as_site(const SmallPlant& plant, const RuleSet& rules) {
    Report report;
    const TempFolder folder;
    PlantSources sources;
    sources.file.description = plant.description;
    sources.maps = read_columns_yaml(folder.write("columns.yaml", map_of_site), rules, report);
    sources.segments = source_from_text(csv_of(as_site(plant.segments)), "segments.csv", report);
    sources.inspections =
        source_from_text(csv_of(as_site(plant.inspections)), "inspections.csv", report);
    const LoadOptions options{plant.at, plant.at, {.block_rows = 64, .threads = 1}};
    LoadedPlant loaded = assemble_plant(std::move(sources), rules, options, std::move(report));
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant.has_value());
    return ranked(*loaded.plant, rules);
}

TEST_CASE("degF, in, ft, psi and USD by column maps: the same ranking but for round-off") {
    double most = 0.0;
    for (int round = 0; round < rounds(20); ++round) {
        SmallPlant plant = random_plant(30, 90 + static_cast<std::uint64_t>(round));
        plant.description.currency = "EUR";
        plant.description.exchange["USD"] = 0.92;
        Dice dice{static_cast<std::uint64_t>(round) + 1};
        for (Cells& cells : plant.segments) {
            cells["leak_cost"] = written(dice.real(2e4, 2e6), 0) + " EUR";
            cells["length"] = written(dice.real(2.0, 60.0), 1) + " m";
        }
        for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
            const auto metric = ranked(plant, *rules);
            const auto site = ranked_as_site(plant, *rules);
            REQUIRE(metric.size() == site.size());
            REQUIRE(metric.size() > 20);
            for (std::size_t i = 0; i < metric.size(); ++i) {
                CAPTURE(rules->name);
                CAPTURE(metric[i].segment);
                const Ranked& other = of_segment(site, metric[i].segment);
                CHECK(other.damage_factor ==
                      doctest::Approx(metric[i].damage_factor).epsilon(tolerance));
                CHECK(other.risk_per_year ==
                      doctest::Approx(metric[i].risk_per_year).epsilon(tolerance));
                if (metric[i].risk_per_year > 0.0) {
                    most = std::max(most,
                                    std::abs(other.risk_per_year / metric[i].risk_per_year - 1.0));
                    CHECK(site[i].segment == metric[i].segment);
                }
            }
        }
    }
    MESSAGE("greatest difference " << most);
    CHECK(most > 0.0);  // the other units were read, and not the same numbers again
}

}  // namespace
}  // namespace lagline
