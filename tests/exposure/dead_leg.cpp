#include "exposure/dead_leg.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "extended/made_plant.h"

namespace lagline {
namespace {

// k A T'' = U (T - Ta), T(0) = header, T'(L) = 0, by central differences; the blind end by a
// mirrored node.  Solved by elimination from the header on.
std::vector<double> by_differences(double length, double m, double header, double ambient,
                                   std::size_t cells) {
    const double h = length / static_cast<double>(cells);
    const double middle = -(2.0 + m * m * h * h);
    std::vector<double> over(cells + 1);
    std::vector<double> right(cells + 1);
    right[0] = header - ambient;
    for (std::size_t i = 1; i <= cells; ++i) {
        const double below = i == cells ? 2.0 : 1.0;
        const double pivot = middle - below * over[i - 1];
        over[i] = i == cells ? 0.0 : 1.0 / pivot;
        right[i] = -below * right[i - 1] / pivot;
    }
    std::vector<double> degc(cells + 1);
    degc[cells] = right[cells];
    for (std::size_t i = cells; i-- > 0;) degc[i] = right[i] - over[i] * degc[i + 1];
    for (double& value : degc) value += ambient;
    return degc;
}

TEST_CASE("dead leg: the closed form solves the fin equation (finite differences of this test)") {
    struct Row {
        double length, transmittance, conductivity, area, header, ambient;
    };
    for (const auto& row :
         {Row{1.5, 0.6, 50.0, 3.6e-3, 200.0, 12.0}, Row{4.0, 1.2, 16.0, 1.1e-3, 200.0, 12.0},
          Row{2.5, 0.9, 40.0, 2.0e-3, -40.0, 25.0}}) {
        const DeadLeg leg{row.length, row.transmittance, row.conductivity, row.area};
        const double m = std::sqrt(row.transmittance / (row.conductivity * row.area));
        constexpr std::size_t cells = 20000;
        const auto degc = by_differences(row.length, m, row.header, row.ambient, cells);
        for (std::size_t i = 0; i <= cells; i += cells / 40) {
            const double station = row.length * static_cast<double>(i) / cells;
            CAPTURE(row.length);
            CAPTURE(station);
            CHECK(std::abs(leg.temperature_degc(station, row.header, row.ambient) - degc[i]) <
                  2e-5);
        }
    }
}

TEST_CASE("dead leg: a stub has the header's temperature, a long one decays to the air") {
    const DeadLeg stub{1e-7, 0.6, 50.0, 3.6e-3};
    CHECK(stub.temperature_degc(1e-7, 200.0, 12.0) == doctest::Approx(200.0).epsilon(1e-12));
    // m L = 176 777: cosh of it is far beyond the largest double.
    const double m = std::sqrt(5.0 / (16.0 * 1e-5));
    const DeadLeg endless{1000.0, 5.0, 16.0, 1e-5};
    for (const double station : {0.0, 0.003, 0.02, 0.1}) {
        CAPTURE(station);
        CHECK(endless.temperature_degc(station, 200.0, 12.0) ==
              doctest::Approx(12.0 + 188.0 * std::exp(-m * station)).epsilon(1e-12));
    }
    CHECK(endless.temperature_degc(1000.0, 200.0, 12.0) == 12.0);
    const double found = endless.station_m(71.0, 200.0, 12.0);
    CHECK(found == doctest::Approx(std::log(188.0 / 59.0) / m).epsilon(1e-9));
}

TEST_CASE("dead leg: station_m is the inverse of temperature_degc") {
    for (const double length : {0.3, 1.8, 9.0, 60.0}) {
        for (const double header : {200.0, -60.0}) {
            const DeadLeg leg{length, 0.6, 50.0, 3.6e-3};
            for (int i = 0; i < 20; ++i) {
                const double station = length * i / 20.0;
                const double degc = leg.temperature_degc(station, header, 12.0);
                CAPTURE(length);
                CAPTURE(header);
                CAPTURE(station);
                if (std::abs(degc - 12.0) < 1e-6) continue;  // no digits are left
                const double found = leg.station_m(degc, header, 12.0);
                CHECK(leg.temperature_degc(found, header, 12.0) ==
                      doctest::Approx(degc).epsilon(1e-12));
                if (std::abs(degc - 12.0) > 1.0) CHECK(std::abs(found - station) < 1e-7);
            }
        }
    }
}

TEST_CASE("dead leg: near the blind end, where hardly a digit tells, the answer is a station") {
    for (double length = 0.01; length < 80.0; length *= 1.07) {
        for (const double header : {200.0, 90.7, -60.0}) {
            const DeadLeg leg{length, 0.6, 50.0, 3.6e-3};
            double degc = leg.temperature_degc(length, header, 12.0);
            for (int step = 0; step < 30; ++step) {
                const double found = leg.station_m(degc, header, 12.0);
                CAPTURE(length);
                CAPTURE(header);
                CAPTURE(step);
                CHECK(found >= 0.0);
                CHECK(found <= length);
                degc = std::nextafter(degc, header);
            }
        }
    }
}

TEST_CASE("dead leg: temperatures that are not passed give an end") {
    const DeadLeg leg{0.3, 0.6, 50.0, 3.6e-3};
    CHECK(leg.station_m(250.0, 200.0, 12.0) == 0.0);
    CHECK(leg.station_m(200.0, 200.0, 12.0) == 0.0);
    CHECK(leg.station_m(5.0, 200.0, 12.0) == 0.3);
    CHECK(leg.station_m(20.0, 200.0, 12.0) == 0.3);
}

TEST_CASE("dead leg off a 200 degC header: the worst station stands at 160 degF, Table 16.2") {
    const RuleSet& rules = shipped_extended();
    for (const char* driver : {"severe", "moderate", "mild", "dry"}) {
        const Plant plant =
            read_made({.segments = {made_segment("S-1", {{"driver", driver},
                                                         {"operating_temperature", "200 degC"},
                                                         {"dead_leg_length", "3 m"}})}},
                      rules);
        const Ranking ranking = rank(plant, rules);
        CAPTURE(driver);
        // The fin of this test: NPS 6, 7.11 mm, carbon steel of 50 W/m/K, air of 15 degC.
        const double area = std::numbers::pi * 0.00711 * (0.1683 - 0.00711);
        const double m = std::sqrt(ranking.exposure.transmittance_w_per_m_k[0] / (50.0 * area));
        const double worst_degc = (160.0 - 32.0) / 1.8;
        const double share = (worst_degc - 15.0) / (200.0 - 15.0);
        const double station = 3.0 - std::acosh(share * std::cosh(3.0 * m)) / m;
        CHECK(std::abs(ranking.exposure.dead_leg_station_m[0] - station) < 1e-6);
        CHECK(std::abs(ranking.exposure.metal_temperature_degc[0] - worst_degc) < 1e-6);
        const double most =
            rules.curve("base_rate").find(word_code(rules, "driver", driver), worst_degc).value;
        CHECK(ranking.wall_loss.base_rate_mm_per_year[0] == doctest::Approx(most).epsilon(1e-12));
    }
}

TEST_CASE("dead leg of a cycling header: no station of a fine scan corrodes faster") {
    const RuleSet& rules = shipped_extended();
    const Plant plant =
        read_made({.segments = {made_segment("S-1", {{"operating_temperature", "220 degC"},
                                                     {"service", "cyclic"},
                                                     {"temperature_low", "90 degC"},
                                                     {"temperature_high", "220 degC"},
                                                     {"hot_fraction", "0.4"},
                                                     {"cycles_per_year", "300 1/y"},
                                                     {"ramp_time", "6 h"},
                                                     {"dead_leg_length", "2.4 m"}})}},
                  rules);
    const ExposureRules taken = exposure_rules(rules, plant);
    const std::uint8_t driver = word_code(rules, "driver", "moderate");
    const SegmentLevels found = segment_levels(plant, taken, 0, driver, 0.7);
    const auto rate = [&](std::span<const ServiceLevel> levels, double station, bool header) {
        const double area = std::numbers::pi * 0.00711 * (0.1683 - 0.00711);
        const DeadLeg leg{2.4, 0.7, 50.0, area};
        double sum = 0.0;
        for (const ServiceLevel& level : levels) {
            const double degc =
                header ? leg.temperature_degc(station, level.metal_degc, 15.0) : level.metal_degc;
            sum += level.share * taken.base_rate->find(driver, degc).value;
        }
        return sum;
    };
    const ServiceCycle cycle{
        ServiceKind::cyclic, 220.0, 90.0, 220.0, 0.4, 300.0, 6.0 / 8766.0, 6.0 / 8766.0,
        taken.air.mean_degc};
    const ServiceLevels header = service_levels(cycle, taken.base_rate->points);
    const double worst = rate(found.levels.all(), 0.0, false);
    CHECK(worst == doctest::Approx(rate(header.all(), found.station_m, true)).epsilon(1e-12));
    for (int i = 0; i <= 5000; ++i) {
        CAPTURE(i);
        CHECK(rate(header.all(), 2.4 * i / 5000.0, true) <= worst + 1e-15);
    }
}

}  // namespace
}  // namespace lagline
