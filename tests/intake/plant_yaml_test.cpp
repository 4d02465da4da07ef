#include <doctest/doctest.h>

#include "plant_folder.h"

namespace lagline {
namespace {

const std::string usual = "name: x\ncurrency: USD\n";
const std::string twelve = "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]";

std::string climate(const std::string& temperature) {
    return usual + "climate:\n  mean_temperature: " + temperature +
           "\n  relative_humidity: {unit: \"%\", values: " + twelve +
           "}\n  rainfall: {unit: mm, values: " + twelve + "}\n";
}

TEST_CASE("plant.yaml is read strictly: one problem, at its place") {
    struct Case {
        std::string yaml, problem, mend;
    };
    const std::vector<Case> cases{
        {usual + "clmate: {}\n", "unknown-key plant.yaml:3:1 plant.yaml\n",
         "did you mean 'climate'?"},
        {"currency: USD\n", "missing-key plant.yaml:1:1 plant.yaml\n", "add the key"},
        {"name: x\n", "missing-key plant.yaml:1:1 plant.yaml\n", "add the key"},
        {"name: x\ncurrency: euro\n", "unknown-word plant.yaml:2:11 currency\n",
         "correct the code"},
        {"name: x\ncurrency: EUR\n", "missing-key plant.yaml:1:1 exchange\n",
         "add it to plant.yaml"},
        {usual + "exchange: {EUR: cheap}\n", "not-a-number plant.yaml:3:17 exchange -> EUR\n",
         "with a decimal point"},
        {usual + "exchange: {EUR: 0}\n", "out-of-range plant.yaml:3:17 exchange -> EUR\n",
         "correct the number"},
        {usual + "management_score: 50\n", "missing-unit plant.yaml:3:19 management_score\n",
         "give one of the units"},
        {usual + "management_score: 120 %\n", "out-of-range plant.yaml:3:19 management_score\n",
         "correct the number"},
        {usual + "rank_date: 5.4.2027\n", "not-a-date plant.yaml:3:12 rank_date\n", "ISO 8601"},
        {usual + "name: y\n", "duplicate-key plant.yaml:3:1 name\n", "plant.yaml:1:1"},
        {usual + "unit_costs: {strip: 310}\n", "yaml-shape plant.yaml:3:21 unit_costs -> strip\n",
         "`key: value`"},
        {usual + "unit_costs: {strip: {value: 310, per: mile}}\n",
         "yaml-shape plant.yaml:3:21 unit_costs -> strip\n", "give the amount"},
        {climate("{unit: degC, values: [1, 2, 3]}"),
         "yaml-shape plant.yaml:4:42 climate -> mean_temperature\n", "give all twelve months"},
        {climate("{values: " + twelve + "}"),
         "missing-unit plant.yaml:4:21 climate -> mean_temperature\n", "add the unit"},
        {climate("{unit: mm, values: " + twelve + "}"),
         "unknown-unit plant.yaml:4:28 climate -> mean_temperature\n", "correct the unit"},
        {climate("{unit: degC, values: [99, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]}"),
         "out-of-range plant.yaml:4:43 climate -> mean_temperature\n", "or the unit"},
        {usual + "climate: {coast_distance: 2}\n",
         "missing-key plant.yaml:3:10 climate\nmissing-key plant.yaml:3:10 climate\n"
         "missing-key plant.yaml:3:10 climate\n"
         "missing-unit plant.yaml:3:27 climate -> coast_distance\n",
         ""},
        {"- a list\n", "yaml-shape plant.yaml:1:1 plant.yaml\n", "`key: value`"},
        {"name: [x\n", "yaml-syntax plant.yaml:2:1\n", "check brackets"},
        {"", "empty-file plant.yaml\n", "fill the file"}};
    for (const Case& each : cases) {
        CAPTURE(each.yaml);
        const auto loaded = load({{"plant.yaml", each.yaml}});
        CHECK(summary(loaded.report) == each.problem);
        REQUIRE(!loaded.report.diagnostics().empty());
        CHECK(holds(loaded.report.diagnostics().front().mend, each.mend));
    }
}

TEST_CASE("without a currency that can be read, amounts of money raise no further problem") {
    for (const auto* yaml : {"name: x\n", "name: [x\n", "name: x\ncurrency: euro\n"}) {
        CAPTURE(yaml);
        const auto loaded = load(
            {{"plant.yaml", yaml},
             {"turnarounds.csv", "name,start,end,budget [EUR]\nTA,2027-04-05,2027-05-09,5\n"}});
        CHECK(loaded.report.errors() == 1);
    }
}

TEST_CASE("plant.yaml is read to the last key") {
    const auto loaded = load({{"plant.yaml", R"(name: Invented
currency: EUR
exchange: {USD: 0.92}
climate:
  mean_temperature: {unit: degF, values: [32, 32, 32, 32, 32, 32, 32, 32, 32, 32, 32, 212e-1]}
  relative_humidity: {unit: "%", values: [80, 80, 80, 80, 80, 80, 80, 80, 80, 80, 80, 80]}
  rainfall: {unit: in, values: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2]}
  coast_distance: 1500 m
  wind_speed: 36 km/h
management_score: 62 %
rank_date: 2027-04-05
unit_costs: {strip: {value: 310, per: m}}
crew_rates: {scaffold: {value: 58, per: hour}}
)"}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    const PlantDescription& plant = loaded.plant->description;
    REQUIRE(plant.climate);
    CHECK(plant.climate->mean_temperature_degc[0] == 0.0);
    CHECK(plant.climate->mean_temperature_degc[11] == doctest::Approx(-6.0).epsilon(1e-12));
    CHECK(plant.climate->rainfall_mm[11] == doctest::Approx(50.8).epsilon(1e-15));
    CHECK(plant.climate->coast_distance_km == doctest::Approx(1.5).epsilon(1e-15));
    CHECK(plant.climate->wind_speed_m_per_s == doctest::Approx(10.0).epsilon(1e-15));
    CHECK(plant.management_score_percent == 62.0);
    CHECK(plant.rank_date == make_date(2027, 4, 5));
    CHECK(plant.unit_costs.at("strip").per == "m");
    CHECK(plant.crew_rates.at("scaffold").amount == 58.0);
}

}  // namespace
}  // namespace lagline
