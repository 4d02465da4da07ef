#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "extended/made_plant.h"
#include "intake/plant_yaml.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

const std::filesystem::path folder =
    std::filesystem::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells;
    std::stringstream in{line + ","};
    for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
    return cells;
}

/// Rows of the sample plant that run at one temperature, continuous and without a dead leg, and
/// give their driver.  Rows with quoted cells are left out.
std::string steady_segments() {
    std::ifstream in{folder / "segments.csv"};
    std::string line;
    std::getline(in, line);
    const auto headings = split(line);
    const auto at = [&](std::string_view key) {
        const auto found = std::ranges::find_if(
            headings, [&](const std::string& heading) { return heading.starts_with(key); });
        return static_cast<std::size_t>(found - headings.begin());
    };
    const std::size_t service = at("service");
    const std::size_t leg = at("dead_leg_length");
    const std::size_t driver = at("driver");
    std::string csv = line + "\n";
    while (std::getline(in, line)) {
        const auto cells = split(line);
        if (line.find('"') != std::string::npos || cells.size() != headings.size()) continue;
        const bool steady = cells[service] == "continuous" && cells[leg].empty();
        if (steady && !cells[driver].empty()) csv += line + "\n";
    }
    return csv;
}

Plant steady_plant(const RuleSet& rules) {
    Report report;
    PlantSources sources;
    sources.file = read_plant_yaml(folder / "plant.yaml", report);
    sources.segments = source_from_text(steady_segments(), "segments.csv", report);
    const Date at = make_date(2027, 4, 5);
    LoadedPlant loaded = assemble_plant(std::move(sources), rules, {at, at, {}}, std::move(report));
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

// Sweating and tracing act beside an entered driver: a line that they wet more has left the
// published method.
TEST_CASE("lines at one temperature have the published base rate, bit for bit") {
    const Plant by_published = steady_plant(shipped_published());
    const Plant by_extended = steady_plant(shipped_extended());
    const Ranking published = rank(by_published, shipped_published());
    const Ranking extended = rank(by_extended, shipped_extended());
    REQUIRE(published.mechanism_rows.wall_loss == extended.mechanism_rows.wall_loss);
    REQUIRE(published.mechanism_rows.wall_loss > 100);
    int alike = 0;
    for (Eigen::Index row = 0; row < published.wall_loss.base_rate_mm_per_year.size(); ++row) {
        CAPTURE(row);
        CHECK(published.exposure.metal_temperature_degc[row] ==
              extended.exposure.metal_temperature_degc[row]);
        if (published.exposure.driver[row] != extended.exposure.driver_level[row]) {
            CHECK(published.exposure.driver[row] > extended.exposure.driver_level[row]);
            CHECK(published.wall_loss.base_rate_mm_per_year[row] <=
                  extended.wall_loss.base_rate_mm_per_year[row]);
            continue;
        }
        ++alike;
        CHECK(published.wall_loss.base_rate_mm_per_year[row] ==
              extended.wall_loss.base_rate_mm_per_year[row]);
    }
    CHECK(alike > 100);
}

}  // namespace
}  // namespace lagline
