#include <doctest/doctest.h>

#include "plant_folder.h"

namespace lagline {
namespace {

const std::string usual = "name: x\ncurrency: USD\n";

TEST_CASE("criteria and outages of plant.yaml are read to the last key") {
    const auto loaded = load({{"plant.yaml", usual + R"(criteria:
  risk: {value: 20000, per: year}
  probability: 2 1/day
)"},
                              {"segments.csv", segments()}});
    // 730.5 a year: no probability.
    CHECK(summary(loaded.report) == "out-of-range plant.yaml:5:16 criteria -> probability\n");

    const auto good = load({{"plant.yaml", usual + R"(criteria:
  risk: {value: 20000, per: year}
  probability: 1e-3 1/y
  wall: minimum_thickness
outage:
  U1: {days: 3, lost_margin: {value: 5000, per: hour}}
)"}});
    INFO(to_text(good.report));
    REQUIRE(good.plant);
    CHECK(good.report.diagnostics().empty());
    const PlantDescription& plant = good.plant->description;
    CHECK(plant.criteria.any());
    CHECK(plant.criteria.risk_per_year == 20000.0);
    CHECK(plant.criteria.probability_per_year == doctest::Approx(1e-3).epsilon(1e-15));
    CHECK(plant.criteria.wall);
    CHECK(plant.criteria.place.line == 4);
    REQUIRE(plant.outages.size() == 1);
    CHECK(plant.outages.at("U1").days == 3.0);
    CHECK(plant.outages.at("U1").lost_margin_per_day == 120000.0);
    CHECK(plant.outages.at("U1").place.line == 8);
}

TEST_CASE("each criterion and each part of an outage may be left out") {
    const auto none = load({});
    REQUIRE(none.plant);
    CHECK_FALSE(none.plant->description.criteria.any());
    CHECK(none.plant->description.outages.empty());
    const auto some = load({{"plant.yaml", usual + "criteria: {wall: minimum_thickness}\n"
                                                   "outage: {U1: {days: 0.5}}\n"}});
    REQUIRE(some.plant);
    const PlantDescription& plant = some.plant->description;
    CHECK(plant.criteria.wall);
    CHECK_FALSE(plant.criteria.risk_per_year);
    CHECK_FALSE(plant.criteria.probability_per_year);
    CHECK(plant.outages.at("U1").days == 0.5);
    CHECK_FALSE(plant.outages.at("U1").lost_margin_per_day);
}

TEST_CASE("a bad criterion or outage is one problem, at its place") {
    struct Case {
        std::string yaml, problem, mend;
    };
    const std::vector<Case> cases{
        {"criteria: 3\n", "yaml-shape plant.yaml:3:11 criteria\n", "`key: value`"},
        {"criteria: {risks: 3}\n", "unknown-key plant.yaml:3:12 criteria\n",
         "did you mean 'risk'?"},
        {"criteria: {risk: 20000}\n", "yaml-shape plant.yaml:3:18 criteria -> risk\n",
         "`key: value`"},
        {"criteria: {risk: {value: 20000, per: day}}\n",
         "yaml-shape plant.yaml:3:18 criteria -> risk\n", "what it is for"},
        {"criteria: {risk: {per: year}}\n", "yaml-shape plant.yaml:3:18 criteria -> risk\n",
         "give the amount"},
        {"criteria: {risk: {value: 0, per: year}}\n",
         "out-of-range plant.yaml:3:18 criteria -> risk\n", "leave the criterion out"},
        {"criteria: {risk: {value: -5, per: year}}\n",
         "out-of-range plant.yaml:3:26 criteria -> risk\n", "correct the number"},
        {"criteria: {risk: {value: much, per: year}}\n",
         "not-a-number plant.yaml:3:26 criteria -> risk\n", "decimal point"},
        {"criteria: {probability: 1e-3}\n",
         "missing-unit plant.yaml:3:25 criteria -> probability\n", "one of the units"},
        {"criteria: {probability: 0 1/y}\n",
         "out-of-range plant.yaml:3:25 criteria -> probability\n", "correct the number"},
        {"criteria: {probability: 3 mm}\n",
         "unit-mismatch plant.yaml:3:25 criteria -> probability\n", "one of the units"},
        {"criteria: {wall: 3 mm}\n", "unknown-word plant.yaml:3:18 criteria -> wall\n",
         "leave the criterion out"},
        {"outage: [U1]\n", "yaml-shape plant.yaml:3:9 outage\n", "`key: value`"},
        {"outage: {U1: {}}\n", "missing-key plant.yaml:3:14 outage -> U1\n", "remove the unit"},
        {"outage: {U1: {day: 3}}\n", "unknown-key plant.yaml:3:15 outage -> U1\n",
         "did you mean 'days'?"},
        {"outage: {U1: {days: -1}}\n", "out-of-range plant.yaml:3:21 outage -> U1 -> days\n",
         "correct the number"},
        {"outage: {U1: {lost_margin: {value: 9, per: year}}}\n",
         "yaml-shape plant.yaml:3:28 outage -> U1 -> lost_margin\n", "give the amount"},
    };
    for (const Case& each : cases) {
        CAPTURE(each.yaml);
        const auto loaded = load({{"plant.yaml", usual + each.yaml}});
        CHECK(summary(loaded.report) == each.problem);
        REQUIRE(!loaded.report.diagnostics().empty());
        CHECK(holds(loaded.report.diagnostics().front().mend, each.mend));
        CHECK_FALSE(loaded.plant);
    }
}

TEST_CASE("an outage of a unit without segments is a warning with the unit that was meant") {
    const auto loaded =
        load({{"plant.yaml", usual + "outage:\n  U11: {days: 3}\n  U1: {days: 3}\n"}});
    CHECK(summary(loaded.report) == "unknown-word plant.yaml:4:3 outage\n");
    CHECK(only(loaded).severity == Severity::warning);
    CHECK(only(loaded).mend == "did you mean 'U1'?");
    CHECK(only(loaded).found == "unit 'U11', which has no segment");
    CHECK(loaded.plant);
}

}  // namespace
}  // namespace lagline
