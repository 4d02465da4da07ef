// Where the driver of a segment comes from: given, default of the plant, derived, default of the
// rules.
#include <doctest/doctest.h>

#include <string>

#include "extended/made_plant.h"

namespace lagline {
namespace {

const RuleSet& rules() { return shipped_extended(); }

struct Found {
    std::string driver, rainfall, coast, site, sweating, weather, cycling, tracing;
};

std::string driver_word(std::uint8_t code) { return rules().vocabulary("driver").words[code].key; }

Found driver_of(const PlantDescription& description, const RowCells& changes,
                const std::map<std::string, PlantDefault, std::less<>>& defaults = {}) {
    const Plant plant = read_made({.segments = {made_segment("S-1", changes)},
                                   .description = description,
                                   .defaults = defaults},
                                  rules());
    const Ranking ranking = rank(plant, rules());
    const ExposureColumns& exposure = ranking.exposure;
    return {driver_word(exposure.driver[0]),          driver_word(exposure.rainfall_driver[0]),
            driver_word(exposure.coast_driver[0]),    driver_word(exposure.site_driver[0]),
            driver_word(exposure.sweating_driver[0]), driver_word(exposure.weather_driver[0]),
            driver_word(exposure.cycling_driver[0]),  driver_word(exposure.tracing_driver[0])};
}

PlantDescription site(double rain_mm, std::optional<double> coast_km = {}) {
    PlantDescription description;
    description.climate = even_climate(12.0, 75.0, rain_mm);
    description.climate->coast_distance_km = coast_km;
    return description;
}

const RowCells not_given{{"driver", ""}};

TEST_CASE("driver: what the segment gives is of the weather, whatever the site says") {
    CHECK(driver_of(site(4000.0, 0.1), {{"driver", "dry"}}).driver == "dry");
    CHECK(driver_of(site(100.0), {{"driver", "severe"}}).driver == "severe");
}

TEST_CASE("driver: one that is entered does not hide sweating, cycling or a steam tracer") {
    // 12 degC and 75 % have a dew point of 7.7 degC: steel at 2 degC is wet all year.
    Found found = driver_of(site(300.0), {{"driver", "mild"}, {"operating_temperature", "2 degC"}});
    CHECK(found.weather == "mild");
    CHECK(found.sweating == "severe");
    CHECK(found.driver == "severe");
    found = driver_of(site(300.0), {{"driver", "mild"}, {"heat_tracing", "steam"}});
    CHECK(found.weather == "mild");
    CHECK(found.tracing == "moderate");
    CHECK(found.driver == "moderate");
    CHECK(driver_of(site(300.0), {{"driver", "mild"}, {"heat_tracing", "electric"}}).driver ==
          "mild");
    found = driver_of(site(300.0), {{"driver", "mild"},
                                    {"service", "cyclic"},
                                    {"temperature_low", "-17 degC"},
                                    {"temperature_high", "220 degC"},
                                    {"operating_temperature", "220 degC"},
                                    {"cycles_per_year", "12 1/y"}});
    CHECK(found.weather == "mild");
    CHECK(found.cycling == "severe");
    CHECK(found.driver == "severe");
}

TEST_CASE("driver: an entered one and an empty one rank a cold line alike") {
    // The weather here is dry; what wets the line is condensation.
    const auto risk = [](const char* driver) {
        const Plant plant =
            read_made({.segments = {made_segment(
                           "S-1", {{"driver", driver}, {"operating_temperature", "2 degC"}})},
                       .description = site(300.0)},
                      rules());
        return rank(plant, rules()).risk.risk_per_year[0];
    };
    CHECK(risk("mild") == risk(""));
    CHECK(risk("dry") == risk(""));
}

TEST_CASE("driver: the default of the plant stands as well") {
    CHECK(driver_of(site(4000.0, 0.1), not_given, {{"driver", {"mild", {}}}}).driver == "mild");
}

TEST_CASE(
    "driver: without a climate the default of the rules stands, or what drift and deluge say") {
    CHECK(driver_of({}, not_given).driver == "moderate");
    // What is known of the unit can only make it worse.
    PlantDescription deluge;
    deluge.deluge_tests = {"U-1"};
    CHECK(driver_of(deluge, not_given).driver == "severe");
    PlantDescription drift;
    drift.cooling_tower_drift = {"U-1"};
    CHECK(driver_of(drift, not_given).driver == "moderate");
}

TEST_CASE("driver: by rainfall, API RP 581, 3rd edition, Part 2, section 16, definitions") {
    // The mild-dry boundary is not tested: the source's millimetres and inches do not meet there.
    CHECK(driver_of(site(300.0), not_given).driver == "dry");
    CHECK(driver_of(site(1000.0), not_given).driver == "mild");
    CHECK(driver_of(site(1524.0), not_given).driver == "moderate");
    CHECK(driver_of(site(2000.0), not_given).driver == "moderate");
    CHECK(driver_of(site(2400.0), not_given).driver == "severe");
}

TEST_CASE("driver: the worst of rain, coast, drift, deluge and sweating") {
    PlantDescription by_sea = site(300.0, 0.3);
    Found found = driver_of(by_sea, not_given);
    CHECK(found.rainfall == "dry");
    CHECK(found.coast == "severe");
    CHECK(found.driver == "severe");

    PlantDescription drift = site(300.0, 30.0);
    drift.cooling_tower_drift = {"U-1"};
    found = driver_of(drift, not_given);
    CHECK(found.coast == "dry");
    CHECK(found.site == "moderate");  // section 16: downwind of a cooling tower
    CHECK(found.driver == "moderate");
    CHECK(driver_of(drift, {{"driver", ""}, {"unit", "U-2"}}).driver == "dry");

    drift.deluge_tests = {"U-1"};
    found = driver_of(drift, not_given);
    CHECK(found.site == "severe");  // section 16: frequent deluge tests
    CHECK(found.driver == "severe");

    // 12 degC and 75 % have a dew point of 7.7 degC: steel at 2 degC sweats all year.
    found = driver_of(site(300.0), {{"driver", ""}, {"operating_temperature", "2 degC"}});
    CHECK(found.sweating == "severe");
    CHECK(found.driver == "severe");
    found = driver_of(site(300.0), {{"driver", ""}, {"operating_temperature", "9 degC"}});
    CHECK(found.sweating == "dry");
    CHECK(found.driver == "dry");
}

TEST_CASE("sweating: months counted, and the jacket sweats no more months than the steel") {
    PlantDescription seasons = site(300.0);
    auto& air = seasons.climate->mean_temperature_degc;
    for (std::size_t month = 0; month < 12; ++month) air[month] = month < 5 ? 25.0 : 0.0;
    // Dew points: 20.2 degC in five months, -3.9 degC in seven.
    for (const char* degc : {"-30 degC", "10 degC", "30 degC"}) {
        const Plant plant = read_made(
            {.segments = {made_segment(
                 "S-1", {{"operating_temperature", degc}, {"insulation_thickness", "25 mm"}})},
             .description = seasons},
            rules());
        const Ranking ranking = rank(plant, rules());
        const double steel = ranking.exposure.steel_sweating_months[0];
        CAPTURE(degc);
        CHECK(steel == (degc[0] == '-' ? 12.0 : degc[0] == '1' ? 5.0 : 0.0));
        CHECK(ranking.exposure.jacket_sweating_months[0] <= steel);
    }
}

}  // namespace
}  // namespace lagline
