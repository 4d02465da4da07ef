#include "support/worked_cases.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/printed.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

std::string with_unit(double value, const char* unit) { return std::to_string(value) + " " + unit; }

std::string years_before(double years) {
    return to_string(add_years(make_date(2025, 1, 1), -static_cast<int>(years)));
}

// The case as a person would type it, in the units of its source.
Cells cells_of(const WorkedCase& each) {
    const bool small = each.outside_in < 3.0;
    return segment_cells(
        each.name, {{"nominal_size", small ? "NPS 2" : "NPS 6"},
                    {"outside_diameter", with_unit(each.outside_in, "in")},
                    {"nominal_wall", with_unit(each.nominal_in, "in")},
                    {"in_service", years_before(each.since_wall_y)},
                    {"coating_date", years_before(each.coating_age_y)},
                    {"coating_quality", each.coating_life_y > 0.0 ? "medium" : "none"},
                    {"operating_temperature", with_unit(each.degf, "degF")},
                    {"driver", std::string{each.driver}},
                    {"insulation_condition", each.condition > 1.0 ? "below_average" : "average"},
                    {"complexity", each.complexity > 1.0 ? "above_average" : "average"},
                    {"pooling", each.pooling > 1.0 ? "yes" : "no"},
                    {"design_pressure", with_unit(each.pressure_psi, "psi")},
                    {"allowable_stress", with_unit(allowable_psi, "psi")},
                    {"yield_strength", with_unit(yield_psi, "psi")},
                    {"tensile_strength", with_unit(tensile_psi, "psi")}});
}

// As many inspections of effectiveness A and B as the case counts; they read no thickness.
std::vector<Cells> inspections_of(const WorkedCase& each) {
    std::vector<Cells> inspections;
    for (double a = 0; a < each.counts[0]; ++a) {
        inspections.push_back(inspection_cells(each.name, "2020-01-01"));
    }
    for (double b = 0; b < each.counts[1]; ++b) {
        inspections.push_back(inspection_cells(each.name, "2021-01-01", {{"coverage", "60 %"}}));
    }
    return inspections;
}

TEST_CASE(
    "cases W1 to W4 of the wall-loss method, API RP 581 (3rd ed.), Part 2, section 16, typed in "
    "the source's units and ranked") {
    SmallPlant small{.segments = {}};
    small.description.management_score_percent = 50.0;  // management factor 1
    for (const WorkedCase& each : worked_cases) {
        small.segments.push_back(cells_of(each));
        for (Cells& inspection : inspections_of(each)) {
            small.inspections.push_back(std::move(inspection));
        }
    }
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (const WorkedCase& each : worked_cases) {
        CAPTURE(each.name);
        const auto check = [&](std::string_view key, double per_unit, std::string_view printed) {
            CAPTURE(key);
            CHECK(printed_like(number_of(plant, ranking, each.name, key) / per_unit, printed) ==
                  printed);
        };
        check("base_rate", mm_per_mil, each.base_mpy);
        check("corrosion_rate", mm_per_mil, each.rate_mpy);
        check("coating_credit", 1.0, each.credit_y);
        check("exposed_time", 1.0, each.exposed_y);
        check("pressure_minimum", mm_per_inch, each.pressure_minimum_in);
        check("flow_stress", mpa_per_psi, "52250.0");
        check("strength_ratio_a", 1.0, each.ratio_a);
        check("strength_ratio_b", 1.0, each.ratio_b);
        check("strength_ratio", 1.0, each.ratio_a);
        check("wall_fraction", 1.0, each.fraction);
        for (std::size_t k = 0; k < damage_states; ++k) {
            check("state_probability_" + std::to_string(k + 1), 1.0, each.state[k]);
            check("reliability_index_" + std::to_string(k + 1), 1.0, each.index[k]);
        }
        check("damage_factor", 1.0, each.damage);
        check("probability_of_failure", 1.0, each.probability);
    }
}

TEST_CASE(
    "management factor 10, 1 and 0.1 at a score of 0, 50 and 100 per cent (API RP 581, Part 1, "
    "recalled)") {
    struct Row {
        double score, factor;
    };
    for (const Row& row : {Row{0, 10}, Row{50, 1}, Row{100, 0.1}}) {
        SmallPlant small{.segments = {segment_cells("S-1")}};
        small.description.management_score_percent = row.score;
        const Plant plant = assemble(small, published_rules());
        const Ranking ranking = rank(plant, published_rules());
        CHECK(number_of(plant, ranking, "S-1", "management_factor") ==
              doctest::Approx(row.factor).epsilon(1e-14));
    }
}

TEST_CASE(
    "the generic frequency is 3.06e-5 a year for every size: API RP 581, rows PIPE-1 to PIPEGT16") {
    SmallPlant small{.segments = {}};
    for (const char* size : {"1/2", "1", "2", "3", "4", "6", "8", "10", "16", "24"}) {
        small.segments.push_back(
            segment_cells(std::string{"N-"} + size, {{"nominal_size", std::string{"NPS "} + size},
                                                     {"outside_diameter", ""},
                                                     {"nominal_wall", "3 mm"}}));
    }
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (const double each : column_of(ranking, "generic_frequency").numbers) {
        CHECK(each == doctest::Approx(3.06e-5).epsilon(1e-14));
    }
}

}  // namespace
}  // namespace lagline
