#include "exposure/service_cycle.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "degradation/wall_loss.h"
#include "extended/made_plant.h"

namespace lagline {
namespace {

double sum_of_shares(const ServiceLevels& levels) {
    double sum = 0.0;
    for (const ServiceLevel& level : levels.all()) sum += level.share;
    return sum;
}

double mean_rate(const CurveTable& table, std::uint8_t driver, const ServiceLevels& levels) {
    const std::array row{levels};
    const std::array drivers{driver};
    std::array<std::uint8_t, 1> outside{};
    Numbers rate(1);
    base_rate(table, row, drivers, rate, outside);
    return rate[0];
}

constexpr std::array months{-4.0, -2.5, 2.0, 7.5, 12.0, 16.5, 19.0, 18.0, 14.0, 9.0, 3.5, -1.0};

TEST_CASE("service levels: the shares of a year sum to 1") {
    const auto& bends = shipped_extended().curve("base_rate").points;
    for (const auto kind : {ServiceKind::continuous, ServiceKind::cyclic, ServiceKind::intermittent,
                            ServiceKind::idle}) {
        for (const double low : {-60.0, 15.0, 120.0, 200.0}) {
            for (const double hot : {0.0, 0.25, 0.9, 1.0, 1.2}) {
                for (const double cycles : {0.0, 12.0, 730.0, 20000.0}) {
                    CAPTURE(static_cast<int>(kind));
                    CAPTURE(low);
                    CAPTURE(hot);
                    CAPTURE(cycles);
                    const auto levels = service_levels({kind, 180.0, low, 200.0, hot, cycles,
                                                        2.0 / 8766.0, 1.0 / 8766.0, months, 0.2},
                                                       bends);
                    CHECK(sum_of_shares(levels) == doctest::Approx(1.0).epsilon(1e-13));
                    for (const ServiceLevel& level : levels.all()) CHECK(level.share > 0.0);
                }
            }
        }
    }
}

TEST_CASE("service levels: the hot share stands, ramps take no more than what it leaves") {
    // 20 000 ramps of 2 h are more than four years.
    const auto levels = service_levels({ServiceKind::cyclic, 180.0, 20.0, 180.0, 0.75, 10000.0,
                                        2.0 / 8766.0, 2.0 / 8766.0, months},
                                       {});
    REQUIRE(levels.all().size() == 3);
    CHECK(levels.all()[0].metal_degc == 180.0);
    CHECK(levels.all()[0].share == 0.75);
    CHECK(levels.all()[1].metal_degc == 100.0);  // middle of the heating ramp, no bend in it
    CHECK(levels.all()[1].share == 0.125);
    // Cooling aims at 20 - 160 / (exp(3) - 1) = 11.617 degC and has the mean 11.617 + 160 / 3.
    CHECK(levels.all()[2].metal_degc ==
          doctest::Approx(20.0 - 160.0 / (std::exp(3.0) - 1.0) + 160.0 / 3.0).epsilon(1e-12));
    CHECK(levels.all()[2].share == doctest::Approx(0.125).epsilon(1e-12));
}

TEST_CASE("service levels: a cycle without a difference is one temperature all year") {
    const auto levels = service_levels(
        {ServiceKind::cyclic, 70.0, 70.0, 70.0, 0.5, 730.0, 2.0 / 8766.0, 2.0 / 8766.0, months},
        {});
    CHECK(sum_of_shares(levels) == 1.0);
    CHECK(levels.highest_degc() == 70.0);
    CHECK(levels.lowest_degc() == 70.0);
}

TEST_CASE("service levels: more bends than there are levels keep the share and the mean") {
    std::vector<double> bends;
    for (int i = 0; i < 200; ++i) bends.push_back(i);
    const auto levels =
        service_levels({ServiceKind::cyclic, 180.0, 0.0, 200.0, 0.0, 1e6, 0.0, 1.0, months}, bends);
    double mean = 0.0;
    for (const ServiceLevel& level : levels.all()) mean += level.share * level.metal_degc;
    CHECK(sum_of_shares(levels) == doctest::Approx(1.0).epsilon(1e-14));
    CHECK(mean == doctest::Approx(100.0).epsilon(1e-12));
}

TEST_CASE("service levels: idle is the months, intermittent the months and the operation") {
    const auto idle = service_levels({.kind = ServiceKind::idle, .ambient_degc = months}, {});
    REQUIRE(idle.all().size() == 12);
    for (std::size_t month = 0; month < 12; ++month) {
        CHECK(idle.all()[month].metal_degc == months[month]);
        CHECK(idle.all()[month].share == 1.0 / 12.0);
    }
    const auto some = service_levels({.kind = ServiceKind::intermittent,
                                      .operating_degc = 140.0,
                                      .hot_fraction = 0.4,
                                      .ambient_degc = months},
                                     {});
    REQUIRE(some.all().size() == 13);
    CHECK(some.all()[0].metal_degc == 140.0);
    CHECK(some.all()[0].share == 0.4);
    CHECK(some.all()[12].metal_degc == months[11]);
    CHECK(some.all()[12].share == doctest::Approx(0.05).epsilon(1e-14));
}

TEST_CASE("service levels: the ramps average Table 16.2 as a fine quadrature of this test does") {
    const CurveTable& table = shipped_extended().curve("base_rate");
    struct Row {
        double low, high;
    };
    for (const auto& row : {Row{-20, 200}, Row{10, 90}, Row{33, 70}, Row{-12.2, 176.7}}) {
        // Hot share 0 and endless ramps: nothing but ramps, all of them heating.
        const auto levels = service_levels(
            {ServiceKind::cyclic, row.high, row.low, row.high, 0.0, 1e6, 0.0, 1.0, months},
            table.points);
        for (std::uint8_t driver = 0; driver < 4; ++driver) {
            CAPTURE(row.low);
            CAPTURE(row.high);
            CAPTURE(static_cast<int>(driver));
            // Trapezes over 4 million equal steps; at bends they are off by the step squared.
            constexpr int steps = 4'000'000;
            long double sum = 0.0L;
            for (int i = 0; i <= steps; ++i) {
                const double degc = row.low + (row.high - row.low) * i / steps;
                const double weight = i == 0 || i == steps ? 0.5 : 1.0;
                sum += static_cast<long double>(weight * table.find(driver, degc).value);
            }
            const auto quadrature = static_cast<double>(sum / steps);
            CHECK(std::abs(mean_rate(table, driver, levels) - quadrature) < 1e-12);
        }
    }
}

TEST_CASE("service levels: cooling averages Table 16.2 as a quadrature over the time does") {
    const CurveTable& table = shipped_extended().curve("base_rate");
    const auto levels = service_levels(
        {ServiceKind::cyclic, 200.0, -20.0, 200.0, 0.0, 1e6, 1.0, 0.0, months}, table.points);
    // T = aim + (high - aim) exp(-t), which reaches the low end after 3 time constants.
    const double aim = -20.0 - 220.0 / (std::exp(3.0) - 1.0);
    for (std::uint8_t driver = 0; driver < 4; ++driver) {
        CAPTURE(static_cast<int>(driver));
        constexpr int steps = 1'000'000;
        long double sum = 0.0L;
        for (int i = 0; i < steps; ++i) {
            const double t = cooling_time_constants * (i + 0.5) / steps;
            sum += static_cast<long double>(
                table.find(driver, aim + (200.0 - aim) * std::exp(-t)).value);
        }
        CHECK(mean_rate(table, driver, levels) ==
              doctest::Approx(static_cast<double>(sum / steps)).epsilon(1e-7));
    }
}

TEST_CASE("service levels: standby stands at its temperature, else at the months") {
    ServiceCycle cycle{ServiceKind::cyclic, -17.0, -17.0, 220.0, 0.3, 0.0, 0.0, 0.0, months, 0.4};
    const auto by_months = service_levels(cycle, {});
    REQUIRE(by_months.all().size() == 14);
    CHECK(by_months.all()[1].metal_degc == -17.0);
    CHECK(by_months.all()[1].share == doctest::Approx(0.3).epsilon(1e-14));
    CHECK(by_months.all()[2].metal_degc == months[0]);
    CHECK(by_months.all()[2].share == doctest::Approx(0.4 / 12.0).epsilon(1e-14));
    cycle.standby_degc = 25.0;
    const auto stated = service_levels(cycle, {});
    REQUIRE(stated.all().size() == 3);
    CHECK(stated.all()[2].metal_degc == 25.0);
    CHECK(stated.all()[2].share == doctest::Approx(0.4).epsilon(1e-14));
}

TEST_CASE("one level of share 1 gives the rate of the table, bit for bit") {
    const CurveTable& table = shipped_extended().curve("base_rate");
    for (double degc = -40.0; degc < 220.0; degc += 0.173) {
        const auto levels = service_levels(
            {.kind = ServiceKind::continuous, .operating_degc = degc, .ambient_degc = months},
            table.points);
        for (std::uint8_t driver = 0; driver < 4; ++driver) {
            CAPTURE(degc);
            CHECK(mean_rate(table, driver, levels) == table.find(driver, degc).value);
        }
    }
}

TEST_CASE("a plant without a climate stands at the ambient temperature of the rules") {
    const RuleSet& rules = shipped_extended();
    const Plant plant =
        read_made({.segments = {made_segment("S-1", {{"service", "idle"}})}}, rules);
    const ExposureRules taken = exposure_rules(rules, plant);
    const auto found = segment_levels(plant, taken, 0, word_code(rules, "driver", "mild"), 0.5);
    REQUIRE(found.levels.all().size() == 1);
    CHECK(found.levels.all()[0].metal_degc == rules.value("ambient_temperature").value());
    CHECK(found.levels.all()[0].share == 1.0);
    CHECK(found.station_m == 0.0);
}

}  // namespace
}  // namespace lagline
