// Three segments against a second implementation in Python with SciPy (three_segments.py), which
// has the method, the distributions and the sampling of its own.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <map>
#include <sstream>
#include <string>

#include "ranking/uncertainty.h"
#include "support/rules.h"
#include "support/shell.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr double python_samples = 32768.0;
constexpr std::size_t samples = 8192;

struct Expected {
    double mean_damage = 0.0;
    double spread_damage = 0.0;
    std::array<double, 2> top{};  ///< rank 1; rank 1 or 2
};

std::map<std::string, Expected> run_script() {
    const std::string command = "/usr/bin/python3 '" + std::string{LAGLINE_SOURCE_DIR} +
                                "/tests/uncertainty/three_segments.py'";
    std::istringstream lines{run_in_shell(command).text};
    std::map<std::string, Expected> all;
    std::string name;
    Expected each;
    while (lines >> name >> each.mean_damage >> each.spread_damage >> each.top[0] >> each.top[1]) {
        all[name] = each;
    }
    return all;
}

Cells with_strength(Cells cells) {
    cells["allowable_stress"] = "20000 psi";
    cells["yield_strength"] = "35000 psi";
    cells["tensile_strength"] = "60000 psi";
    cells["data_confidence"] = "low";
    cells["corrosion_allowance"] = "0 in";
    cells["consequence_category"] = "C";
    cells["joint_efficiency"] = "1";
    return cells;
}

SmallPlant three_segments() {
    SmallPlant plant;
    plant.description.management_score_percent = 50.0;
    Cells first = with_strength(segment_cells("T1"));
    first.merge(Cells{{"insulation_installed", "2000-06-01"}});
    const auto set = [](Cells& cells, const Cells& changes) {
        for (const auto& [key, text] : changes) cells[key] = text;
    };
    set(first, {{"outside_diameter", "6.625 in"},
                {"nominal_wall", "0.280 in"},
                {"in_service", "1985-03-01"},
                {"operating_temperature", "160 degF"},
                {"insulation_type", "unknown"},
                {"insulation_condition", ""},
                {"complexity", ""},
                {"driver", "dry"},
                {"coating_date", ""},
                {"design_pressure", "250 psi"}});
    Cells second = with_strength(segment_cells("T2"));
    set(second, {{"nominal_size", "NPS 2"},
                 {"outside_diameter", "2.375 in"},
                 {"nominal_wall", "0.218 in"},
                 {"in_service", "1998"},
                 {"operating_temperature", "90 degF"},
                 {"pooling", ""},
                 {"driver", "dry"},
                 {"coating_quality", ""},
                 {"coating_date", "2003-05-10"},
                 {"design_pressure", "150 psi"},
                 {"consequence_category", ""}});
    Cells third = with_strength(segment_cells("T3"));
    set(third, {{"nominal_size", "NPS 8"},
                {"outside_diameter", "8.625 in"},
                {"nominal_wall", "0.322 in"},
                {"in_service", "2001-09-01"},
                {"operating_temperature", "225 degF"},
                {"insulation_condition", "below_average"},
                {"driver", ""},
                {"coating_quality", "none"},
                {"coating_date", "2001-09-01"},
                {"design_pressure", ""},
                {"joint_efficiency", ""},
                {"consequence_category", "D"}});
    plant.segments = {first, second, third};
    plant.inspections = {inspection_cells(
        "T3", "2015-06-01", {{"coverage", "100 %"}, {"least_thickness", "0.200 in"}})};
    return plant;
}

// Both errors are those of independent draws, which scrambled Sobol points stay below.
double error_of(double spread) {
    return spread * std::sqrt(1.0 / python_samples + 1.0 / static_cast<double>(samples));
}

TEST_CASE(
    "mean damage factor and chance of rank: SciPy's Sobol points and the method coded apart") {
    const auto expected = run_script();
    INFO("needs /usr/bin/python3 with python3-scipy: tests/setup.sh tests");
    REQUIRE(expected.size() == 3);
    const Plant plant = assemble(three_segments(), published_rules());
    for (std::size_t top = 1; top <= 2; ++top) {
        const Uncertainty sure =
            rank_uncertainty(plant, published_rules(), {.samples = samples, .top = top});
        REQUIRE(sure.segments.size() == 3);
        for (const SegmentUncertainty& each : sure.segments) {
            const std::string name{plant.segments.texts(SegmentField::segment)[each.segment_row]};
            const Expected& want = expected.at(name);
            CAPTURE(name);
            CAPTURE(top);
            CAPTURE(each.expected_damage_factor);
            CAPTURE(want.mean_damage);
            CHECK(std::abs(each.expected_damage_factor - want.mean_damage) <
                  4.0 * error_of(want.spread_damage));
            const double p = want.top[top - 1];
            CAPTURE(each.top_probability);
            CAPTURE(p);
            CHECK(std::abs(each.top_probability - p) < 4.0 * error_of(std::sqrt(p * (1.0 - p))));
        }
    }
}

}  // namespace
}  // namespace lagline
