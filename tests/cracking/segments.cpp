// Cracking of whole segments, from cells to damage factor.
#include <doctest/doctest.h>

#include <string>

#include "extended/made_plant.h"

namespace lagline {
namespace {

RowCells stainless(const RowCells& changes) {
    RowCells cells = made_segment("S-1", {{"material", "austenitic_stainless"},
                                          {"allowable_stress", "138 MPa"},
                                          {"yield_strength", "205 MPa"},
                                          {"tensile_strength", "515 MPa"},
                                          {"in_service", "2013-01-01"}});
    for (const auto& [key, text] : changes) cells[key] = text;
    return cells;
}

RowCells surface_tested(const char* date, const char* coverage = "100 %",
                        const char* cracks = "no") {
    return made_inspection(
        "S-1", date,
        {{"technique", "penetrant_testing"}, {"coverage", coverage}, {"cracks_found", cracks}});
}

struct Cracked {
    std::string susceptibility, severity;
    double governing_degc = 0.0, governing_share = 0.0, steps = 0.0;
    double base = 0.0, age = 0.0, damage = 0.0;
    bool found = false;
};

Cracked crack(const RowCells& changes, const std::vector<RowCells>& inspections = {},
              const RuleSet& rules = shipped_extended()) {
    const Plant plant =
        read_made({.segments = {stainless(changes)}, .inspections = inspections}, rules);
    const Ranking ranking = rank(plant, rules);
    REQUIRE(ranking.mechanism_rows.cracking == 1);
    const CrackingColumns& c = ranking.cracking;
    return {rules.vocabulary("susceptibility").words[c.susceptibility[0]].key,
            rules.vocabulary("severity_index").words[c.severity[0]].key,
            c.level_degc[0],
            c.level_share[0],
            c.steps[0],
            ranking.likelihood.base_damage_factor[0],
            ranking.coating.exposed_time_years[0],
            ranking.likelihood.damage_factor[0],
            c.cracks_found[0] != 0};
}

TEST_CASE("bare austenitic steel, 12 years, severity 50 and 10: with both rule sets") {
    for (const RuleSet* rules : {&shipped_published(), &shipped_extended()}) {
        const Cracked none = crack({}, {}, *rules);  // 70 degC, moderate: high
        CHECK(none.severity == "s50");
        CHECK(none.age == 12.0);
        CHECK(std::abs(none.damage - 769.2533) <= 5e-5);
        // An inspection B on the first day.
        const Cracked one_b = crack({}, {surface_tested("2013-01-01", "80 %")}, *rules);
        CHECK(one_b.base == 5.0);
        CHECK(std::abs(one_b.damage - 76.92533) <= 5e-6);
        // 120 degC, moderate: medium, index 10; 6 years.
        const Cracked medium = crack(
            {{"operating_temperature", "120 degC"}, {"in_service", "2019-01-01"}}, {}, *rules);
        CHECK(medium.severity == "s10");
        CHECK(std::abs(medium.damage - 71.77387) <= 5e-6);
    }
}

TEST_CASE("years count from the last inspection that counts and found no cracks") {
    const Cracked found =
        crack({}, {surface_tested("2020-01-01"), surface_tested("2023-01-01", "5 %")});
    CHECK(found.age == 5.0);
    CHECK(found.base == 3.0);  // one A
}

TEST_CASE("cracks found count as the worst, at any temperature, until a later inspection clears") {
    const auto cracks = made_inspection("S-1", "2018-01-01", {{"cracks_found", "yes"}});
    for (const char* degc : {"20 degC", "120 degC", "300 degC"}) {
        const Cracked found = crack({{"operating_temperature", degc}, {"driver", "dry"}}, {cracks});
        CAPTURE(degc);
        CHECK(found.found);
        CHECK(found.severity == "s50");
    }
    const Cracked cleared =
        crack({{"operating_temperature", "20 degC"}}, {cracks, surface_tested("2021-01-01")});
    CHECK_FALSE(cleared.found);
    CHECK(cleared.severity == "s0");
    CHECK(cleared.damage == 1.0);  // scc_damage_floor
}

TEST_CASE("cracks are forgotten for a `no` of effectiveness A or B for cracking only") {
    const auto cracks = made_inspection("S-1", "2018-01-01", {{"cracks_found", "yes"}});
    const auto later = [&](const RowCells& inspection) {
        return crack({}, {cracks, inspection}).found;
    };
    CHECK(later(made_inspection("S-1", "2020-01-01", {{"coverage", "10 %"}})));
    CHECK(later(made_inspection("S-1", "2020-01-01")));                            // D, empty
    CHECK(later(made_inspection("S-1", "2020-01-01", {{"cracks_found", "no"}})));  // D
    CHECK(later(surface_tested("2020-01-01", "50 %")));                            // C
    CHECK(later(surface_tested("2020-01-01", "100 %", "")));                       // A, empty
    CHECK_FALSE(later(surface_tested("2020-01-01", "61 %")));                      // B
    CHECK_FALSE(later(surface_tested("2020-01-01")));                              // A
    // What was found in the pipe that stood there before says nothing of this one.
    CHECK_FALSE(crack({{"in_service", "2019-01-01"}}, {cracks}).found);
    // After it is cleared, credit begins with the inspection that cleared it.
    const Cracked cleared =
        crack({}, {surface_tested("2015-01-01"), cracks, surface_tested("2020-01-01")});
    CHECK(cleared.base == 3.0);  // one A, not two
    CHECK(cleared.age == 5.0);
}

TEST_CASE("known cracks earn no credit and stand above the same pipe never inspected") {
    const auto cracks = made_inspection("S-1", "2020-01-01", {{"cracks_found", "yes"}});
    for (const RuleSet* rules : {&shipped_published(), &shipped_extended()}) {
        for (const char* degc : {"10 degC", "60 degC", "120 degC", "200 degC"}) {
            for (const char* driver : {"severe", "moderate", "mild", "dry"}) {
                for (const char* service : {"1930-01-01", "1990-01-01", "2019-06-01"}) {
                    const RowCells cells{{"operating_temperature", degc},
                                         {"driver", driver},
                                         {"coating_system", "epoxy"},
                                         {"coating_quality", "high"},
                                         {"in_service", service}};
                    CAPTURE(degc);
                    CAPTURE(driver);
                    CAPTURE(service);
                    const Cracked known =
                        crack(cells,
                              {surface_tested("2019-09-01"), cracks,
                               made_inspection("S-1", "2021-01-01", {{"rust_grade", "10"}})},
                              *rules);
                    CHECK(known.found);
                    CHECK(known.base == 50.0);
                    CHECK(known.damage > crack(cells, {}, *rules).damage);
                }
            }
        }
    }
}

TEST_CASE("the clock of cracking starts anew on A, B and C, not on D or E") {
    CHECK(crack({}, {surface_tested("2020-01-01", "100 %")}).age == 5.0);
    CHECK(crack({}, {surface_tested("2020-01-01", "80 %")}).age == 5.0);
    CHECK(crack({}, {surface_tested("2020-01-01", "40 %")}).age == 5.0);
    CHECK(crack({}, {surface_tested("2020-01-01", "20 %")}).age == 12.0);
    for (const char* technique : {"guided_wave", "pulsed_eddy_current", "ut_through_plugs",
                                  "strip_and_measure", "external_visual"}) {
        CAPTURE(technique);
        CHECK(crack({}, {made_inspection("S-1", "2020-01-01", {{"technique", technique}})}).age ==
              12.0);
    }
    // Radiography is C at most.
    CHECK(crack({}, {made_inspection("S-1", "2020-01-01", {{"technique", "profile_radiography"}})})
              .base == 17.0);
}

TEST_CASE(
    "of the columns printed in degC and degF the graver counts, in whichever unit it stands") {
    const auto moderate = [](const char* at) {
        return crack({{"operating_temperature", at}, {"driver", "moderate"}}).susceptibility;
    };
    CHECK(moderate("200 degF") == "high");  // 93.33 degC
    CHECK(moderate("93.3 degC") == "high");
    CHECK(moderate("201 degF") == "medium");
    CHECK(moderate("120 degF") == "high");  // 48.9 degC
    CHECK(moderate("119 degF") == "none");
    CHECK(moderate("149 degC") == "medium");  // 300.2 degF
    CHECK(moderate("150 degC") == "none");
}

TEST_CASE("no risk is exactly zero, and a temperature outside the window is flagged") {
    for (const RuleSet* rules : {&shipped_published(), &shipped_extended()}) {
        for (const char* degc : {"-40 degC", "20 degC", "48 degC", "60 degC", "160 degC"}) {
            const Plant plant = read_made(
                {.segments = {stainless({{"operating_temperature", degc}, {"driver", "dry"}})}},
                *rules);
            const Ranking ranking = rank(plant, *rules);
            CAPTURE(degc);
            CHECK(ranking.likelihood.damage_factor[0] >= 1.0);
            CHECK(ranking.risk.risk_per_year[0] > 0.0);
            CHECK((ranking.wall_loss.outside_range[0] == 1) == (std::string{degc} != "60 degC"));
        }
    }
}

TEST_CASE("steps move the susceptibility within none to high, and make none of none") {
    const RowCells worse{{"complexity", "above_average"},
                         {"insulation_condition", "below_average"}};
    const RowCells better{{"complexity", "below_average"},
                          {"insulation_condition", "above_average"}};
    struct Row {
        const char *degc, *driver, *better, *plain, *worse;
    };
    for (const auto& row :
         {Row{"70 degC", "severe", "s1", "s50", "s50"},
          Row{"120 degC", "moderate", "s0", "s10", "s50"},
          Row{"120 degC", "mild", "s0", "s1", "s50"}, Row{"120 degC", "dry", "s0", "s0", "s0"},
          Row{"20 degC", "severe", "s0", "s0", "s0"},
          Row{"160 degC", "severe", "s0", "s0", "s0"}}) {
        const auto severity = [&](const RowCells& steps) {
            RowCells cells = steps;
            cells["operating_temperature"] = row.degc;
            cells["driver"] = row.driver;
            return crack(cells).severity;
        };
        CAPTURE(row.degc);
        CAPTURE(row.driver);
        CHECK(severity(better) == row.better);
        CHECK(severity({}) == row.plain);
        CHECK(severity(worse) == row.worse);
    }
    CHECK(crack(worse).steps == 2.0);
    CHECK(crack(better).steps == -2.0);
}

TEST_CASE("the worst level of the cycle governs, with its share; the published set has one level") {
    const RowCells cycle{{"operating_temperature", "20 degC"},
                         {"service", "cyclic"},
                         {"temperature_low", "20 degC"},
                         {"temperature_high", "70 degC"},
                         {"hot_fraction", "0.25"},
                         {"cycles_per_year", "0 1/y"}};
    const Cracked found = crack(cycle);
    CHECK(found.governing_degc == 70.0);
    CHECK(found.governing_share == 0.25);
    CHECK(found.susceptibility == "high");
    CHECK(crack(cycle, {}, shipped_published()).susceptibility == "none");
    // Between plateaus that do not crack, the ramps do.
    const Cracked ramps = crack({{"operating_temperature", "200 degC"},
                                 {"service", "cyclic"},
                                 {"temperature_low", "10 degC"},
                                 {"temperature_high", "200 degC"},
                                 {"hot_fraction", "0.5"},
                                 {"cycles_per_year", "365 1/y"}});
    CHECK(ramps.susceptibility == "high");
    CHECK(ramps.governing_degc > 49.0);
    CHECK(ramps.governing_degc <= 93.0);
    CHECK(ramps.governing_share < 0.1);
}

TEST_CASE("duplex steel is ranked by the extended set only") {
    const std::vector<RowCells> segments{stainless({{"material", "duplex_stainless"}})};
    const Plant by_published = read_made({.segments = segments}, shipped_published());
    const Ranking published = rank(by_published, shipped_published());
    CHECK(published.order.empty());
    REQUIRE(published.not_ranked.size() == 1);
    CHECK(published.not_ranked[0].reason.find("duplex_stainless") != std::string::npos);
    CHECK(crack({{"material", "duplex_stainless"}}).susceptibility == "none");  // 70 degC
    CHECK(crack({{"material", "duplex_stainless"}, {"operating_temperature", "90 degC"}})
              .susceptibility == "medium");
}

}  // namespace
}  // namespace lagline
