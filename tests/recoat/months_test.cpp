#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

RecoatPlant in_air(double degc, double humidity) {
    return RecoatPlant{{.climate = months_of(degc, humidity)}};
}

TEST_CASE("3 K above the dew point: Magnus form, constants 17.62 and 243.12 degC of the WMO") {
    // 20 degC: dew point 16.44 at 80 % (3.56 K below), 17.40 at 85 % (2.60 K), 18.31 at 90 %.
    CHECK(in_air(20.0, 80.0).option("epoxy").months == every_month);
    CHECK(in_air(20.0, 85.0).refusal("epoxy") == RecoatRefusal::no_month);
    CHECK(in_air(20.0, 90.0).refusal("sprayed_aluminium") == RecoatRefusal::no_month);
    CHECK(in_air(20.0, 90.0).reason("epoxy") ==
          "in no month is the steel warm enough to cure and 3 K above the dew point");
}

TEST_CASE("cure: epoxy phenolic not below 10 degC, the flexible one to -4: common practice") {
    CHECK(in_air(10.0, 50.0).option("epoxy_phenolic").months == every_month);
    CHECK(in_air(9.9, 50.0).refusal("epoxy_phenolic") == RecoatRefusal::no_month);
    CHECK(in_air(9.9, 50.0).reason("epoxy_phenolic") ==
          "steel is at 9.9 degC at most, and it cures from 10 degC");
    CHECK(in_air(-3.0, 50.0).option("flexible_epoxy_phenolic").allowed());
    CHECK_FALSE(in_air(-5.0, 50.0).option("flexible_epoxy_phenolic").allowed());
}

TEST_CASE("the months of a year stand in their bits") {
    Climate climate = months_of(5.0, 50.0);
    climate.mean_temperature_degc[4] = 15.0;  // May
    climate.mean_temperature_degc[7] = 18.0;  // August, but damp
    climate.relative_humidity_percent[7] = 95.0;
    climate.mean_temperature_degc[11] = 12.0;  // December
    const RecoatPlant plant{{.climate = climate}};
    CHECK(plant.option("epoxy").months == 0b100000010000);
    CHECK(plant.planner.best(0, plant.service, WorkState::shutdown, 0b000000010000).has_value());
}

TEST_CASE("best keeps to the months of the window") {
    Climate climate = months_of(5.0, 50.0);
    climate.mean_temperature_degc[5] = 18.0;
    const RecoatPlant plant{{.climate = climate}};
    for (unsigned month = 0; month < 12; ++month) {
        const auto only = static_cast<std::uint16_t>(1U << month);
        const auto best = plant.planner.best(0, plant.service, WorkState::shutdown, only);
        REQUIRE(best.has_value());
        CHECK((best->months & only) != 0);
        double least = INFINITY;
        for (const RecoatOption& option : plant.options()) {
            if (option.allowed() && (option.months & only) != 0) {
                least = std::min(least, option.life_cycle_cost);
            }
        }
        CHECK(best->life_cycle_cost == least);
    }
    CHECK_FALSE(plant.planner.best(0, plant.service, WorkState::shutdown, 0).has_value());
}

TEST_CASE("a colder month is never allowed where a warmer one of the same humidity is refused") {
    for (const double humidity : {40.0, 70.0, 79.0, 81.0, 84.0, 90.0}) {
        for (const char* system :
             {"epoxy", "epoxy_phenolic", "flexible_epoxy_phenolic", "sprayed_aluminium"}) {
            bool warmer_refused = false;
            for (double air = 40.0; air >= -20.0; air -= 2.5) {
                CAPTURE(air);
                const bool allowed = in_air(air, humidity).option(system).allowed();
                CHECK_FALSE((allowed && warmer_refused));
                warmer_refused = warmer_refused || !allowed;
            }
        }
    }
}

TEST_CASE("on stream the steel is at the temperature of the service") {
    const auto at = [](int degc, double air, double humidity) {
        return RecoatPlant{{.cells = held_at_degc(degc), .climate = months_of(air, humidity)}};
    };
    // Warm steel in cold, damp air: it cures and stays dry.
    CHECK(at(40, 2.0, 95.0).option("epoxy", WorkState::on_stream).months == every_month);
    CHECK_FALSE(at(40, 2.0, 95.0).option("epoxy").allowed());
    CHECK(at(51, 20.0, 50.0).refusal("epoxy", WorkState::on_stream) ==
          RecoatRefusal::steel_too_hot);
    CHECK(at(51, 20.0, 50.0).reason("epoxy", WorkState::on_stream) ==
          "steel at 51 degC is too hot to coat, up to 50 degC");
    // Cold service sweats.
    CHECK(at(12, 25.0, 80.0).refusal("epoxy", WorkState::on_stream) == RecoatRefusal::no_month);
    CHECK(at(12, 25.0, 80.0).option("epoxy").allowed());
}

TEST_CASE("a cyclic line is coated on stream only where both ends of its cycle allow it") {
    const auto cycling = [](const char* low, const char* high) {
        return RecoatPlant{{.cells = {{"service", "cyclic"},
                                      {"operating_temperature", high},
                                      {"temperature_low", low},
                                      {"temperature_high", high},
                                      {"hot_fraction", "0.5"},
                                      {"cycles_per_year", "50 1/y"}}}};
    };
    CHECK(cycling("20 degC", "45 degC").option("epoxy", WorkState::on_stream).allowed());
    CHECK(cycling("20 degC", "55 degC").refusal("epoxy", WorkState::on_stream) ==
          RecoatRefusal::steel_too_hot);
    CHECK(cycling("5 degC", "45 degC").refusal("epoxy", WorkState::on_stream) ==
          RecoatRefusal::no_month);
    CHECK(cycling("20 degC", "45 degC").refusal("petrolatum_tape") == RecoatRefusal::cyclic);
}

TEST_CASE("the far end of a dead leg follows the air") {
    Cells cells = held_at_degc(40);
    cells["dead_leg_length"] = "2 m";
    const RecoatPlant cold{{.cells = cells, .climate = months_of(2.0, 50.0)}};
    CHECK(cold.refusal("epoxy", WorkState::on_stream) == RecoatRefusal::no_month);
    CHECK(cold.service.hottest_degc == 40.0);
    const RecoatPlant warm{{.cells = cells, .climate = months_of(20.0, 50.0)}};
    CHECK(warm.option("epoxy", WorkState::on_stream).allowed());
}

TEST_CASE("without a climate nothing is said of months") {
    const RecoatPlant plant{{.climate = std::nullopt}};
    const RecoatOption shutdown = plant.option("epoxy");
    CHECK(shutdown.allowed());
    CHECK_FALSE(shutdown.months_known);
    CHECK(plant.planner.best(0, plant.service, WorkState::shutdown, 1).has_value());
    // What does not hang on the air is still compared.
    const RecoatPlant cold{{.cells = held_at_degc(5), .climate = std::nullopt}};
    CHECK(cold.refusal("epoxy", WorkState::on_stream) == RecoatRefusal::no_month);
    const RecoatPlant hot{{.cells = held_at_degc(90), .climate = std::nullopt}};
    CHECK(hot.refusal("epoxy", WorkState::on_stream) == RecoatRefusal::steel_too_hot);
}

}  // namespace
}  // namespace lagline
