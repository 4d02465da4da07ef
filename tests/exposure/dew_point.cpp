#include "exposure/dew_point.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <initializer_list>

namespace lagline {
namespace {

// Vapour pressure by a wet bulb at sea level, psychrometer constant 0.000662 / K.
double vapour_pressure_pa(double dry_degc, double wet_degc) {
    return saturation_pressure_pa(wet_degc) - 0.000662 * 101325.0 * (dry_degc - wet_degc);
}

double humidity_percent(double dry_degc, double wet_degc) {
    return 100.0 * vapour_pressure_pa(dry_degc, wet_degc) / saturation_pressure_pa(dry_degc);
}

TEST_CASE("dew point: table by air temperature and humidity, Magnus 17.62 / 243.12 (computed)") {
    constexpr std::array humidity{50, 60, 70, 80, 85, 90, 95};
    struct Row {
        double air;
        std::array<double, 7> dew;
    };
    for (const auto& row : {Row{0, {-9.20, -6.85, -4.82, -3.04, -2.22, -1.45, -0.71}},
                            Row{5, {-4.58, -2.13, -0.02, 1.83, 2.69, 3.50, 4.27}},
                            Row{10, {0.04, 2.58, 4.78, 6.71, 7.59, 8.43, 9.24}},
                            Row{15, {4.65, 7.29, 9.57, 11.58, 12.50, 13.37, 14.20}},
                            Row{20, {9.26, 12.00, 14.36, 16.44, 17.40, 18.31, 19.17}},
                            Row{25, {13.85, 16.69, 19.15, 21.31, 22.30, 23.24, 24.14}},
                            Row{30, {18.44, 21.39, 23.93, 26.17, 27.20, 28.18, 29.11}},
                            Row{35, {23.02, 26.07, 28.71, 31.03, 32.10, 33.11, 34.08}},
                            Row{40, {27.60, 30.75, 33.48, 35.89, 36.99, 38.04, 39.04}}}) {
        for (std::size_t i = 0; i < humidity.size(); ++i) {
            CAPTURE(row.air);
            CAPTURE(humidity[i]);
            const double found = dew_point_degc(row.air, humidity[i]);
            CAPTURE(found);
            CHECK(std::abs(found - row.dew[i]) <= 0.005 + 1e-9);
        }
    }
}

TEST_CASE("saturation pressure: ASHRAE Fundamentals 2017, chapter 1, table 3") {
    // Below 0 degC the table stands over ice and says nothing of this form, which is over water.
    struct Row {
        double degc, pa, tolerance;
    };
    for (const auto& row : {Row{5, 872.6, 0.003}, Row{25, 3169.7, 0.0031}, Row{50, 12351.3, 0.0005},
                            Row{100, 101418.0, 0.0245}}) {
        CAPTURE(row.degc);
        const double off = saturation_pressure_pa(row.degc) / row.pa - 1.0;
        CAPTURE(off);
        CHECK(std::abs(off) <= row.tolerance);
    }
    CHECK(saturation_pressure_pa(100.0) > 1.02 * 101418.0);  // known to be high there
}

TEST_CASE("dew point: ASHRAE Fundamentals 2017, chapter 1, example 1, 40 degC with wet bulb 20") {
    const double humidity = humidity_percent(40.0, 20.0);
    CHECK(std::abs(humidity - 14.0) <= 0.6);  // printed: 14 %
    CHECK(std::abs(dew_point_degc(40.0, humidity) - 7.0) <= 0.5);
}

TEST_CASE("dew point: two published painting decisions, steel at least 3 K above it") {
    const double first = dew_point_degc(21.0, humidity_percent(21.0, 17.0));
    CHECK(std::abs(first - 15.0) <= 0.5);  // read off a chart
    CHECK(std::abs(first - 14.66) <= 0.01);
    CHECK(19.0 - first >= 3.0);  // published: paint
    const double second = dew_point_degc(16.0, 71.0);
    CHECK(std::abs(second - 11.0) <= 0.5);
    CHECK(std::abs(second - 10.74) <= 0.006);
    CHECK(13.0 - second < 3.0);  // published: do not paint
}

TEST_CASE("dew point of dry air is that of air with 0.1 %, by hand") {
    // gamma = ln(0.001) + 17.62 * 20 / 263.12 = -6.907755 + 1.339313 = -5.568442
    // 243.12 * -5.568442 / (17.62 + 5.568442) = -58.3825
    for (const double humidity : {0.0, 0.05, 0.1}) {
        CAPTURE(humidity);
        CHECK(std::abs(dew_point_degc(20.0, humidity) + 58.3825) <= 0.0001);
    }
    CHECK(std::abs(dew_point_degc(20.0, 0.12) + 56.9185) <= 0.0001);  // ln(0.0012) = -6.725434
}

TEST_CASE("dew point never lies above the air, and meets it in saturated air") {
    for (double air = -60.0; air <= 60.0; air += 0.37) {
        CAPTURE(air);
        double before = -300.0;
        for (const double humidity : {0.0, 0.1, 5.0, 40.0, 85.0, 99.9, 100.0}) {
            const double dew = dew_point_degc(air, humidity);
            CHECK(dew <= air);
            CHECK(dew >= before);
            before = dew;
        }
        CHECK(before == doctest::Approx(air).epsilon(1e-12));
    }
}

}  // namespace
}  // namespace lagline
