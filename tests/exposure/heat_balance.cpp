#include "exposure/heat_balance.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <initializer_list>
#include <numbers>

namespace lagline {
namespace {

double wool(double mean_degc) { return 0.034 + 1.1e-4 * mean_degc; }

struct Case {
    double metal_degc, ambient_degc, radius_m, thickness_m;
    double emissivity, wind_m_per_s;
    double vertical_m = 0.0;
    [[nodiscard]] OuterSurface jacket() const {
        return {2.0 * (radius_m + thickness_m), emissivity, wind_m_per_s, vertical_m};
    }
    [[nodiscard]] HeatBalance balance() const {
        return balance_heat(metal_degc, ambient_degc, radius_m, jacket(), wool);
    }
};

template <class Check>
void for_every_case(const Check& check) {
    for (const double metal : {-160.0, -30.0, 4.0, 60.0, 180.0, 550.0}) {
        for (const double ambient : {-15.0, 12.0, 35.0}) {
            for (const double radius : {0.0107, 0.0841, 0.305, 0.61}) {
                for (const double thickness : {0.02, 0.05, 0.11, 0.2}) {
                    for (const double emissivity : {0.13, 0.9}) {
                        for (const double wind : {0.0, 2.0, 12.0}) {
                            for (const double vertical : {0.0, 6.0}) {
                                check(Case{metal, ambient, radius, thickness, emissivity, wind,
                                           vertical});
                            }
                        }
                    }
                }
            }
        }
    }
}

TEST_CASE("balance_heat: what the insulation conducts is what the jacket gives off") {
    int at_jump = 0;
    for_every_case([&](const Case& at) {
        CAPTURE(at.metal_degc);
        CAPTURE(at.ambient_degc);
        CAPTURE(at.radius_m);
        CAPTURE(at.thickness_m);
        CAPTURE(at.emissivity);
        CAPTURE(at.wind_m_per_s);
        CAPTURE(at.vertical_m);
        const HeatBalance found = at.balance();
        const OuterSurface jacket = at.jacket();
        const std::array layer{PipeLayer{at.radius_m, jacket.diameter_m / 2.0,
                                         wool((at.metal_degc + found.jacket_degc) / 2.0)}};
        const double conducted =
            (at.metal_degc - found.jacket_degc) / layer_resistance_m_k_per_w(layer);
        const double given_off =
            surface_coefficient_w_per_m2_k(jacket, found.jacket_degc, at.ambient_degc) *
            std::numbers::pi * jacket.diameter_m * (found.jacket_degc - at.ambient_degc);
        // Where the flow turns turbulent, D^3 dT = 10, the coefficient jumps up (ISO 12241,
        // recalled): a jacket that stands at the jump gives off what lies between the two.
        const double turning_k = 10.0 / std::pow(jacket.diameter_m, 3.0);
        const double difference = std::abs(found.jacket_degc - at.ambient_degc);
        if (at.wind_m_per_s == 0.0 && at.vertical_m == 0.0 &&
            std::abs(difference - turning_k) < 1e-8) {
            const double d = difference;
            const double area = std::numbers::pi * jacket.diameter_m * d;
            const double step =
                (1.21 * std::cbrt(d) - 1.25 * std::sqrt(std::sqrt(d / jacket.diameter_m))) * area;
            CHECK(std::abs(given_off - conducted) <= step);
            ++at_jump;
        } else {
            CHECK(given_off == doctest::Approx(conducted).epsilon(1e-9));
        }
        CHECK(found.heat_loss_w_per_m == doctest::Approx(conducted).epsilon(1e-9));
        CHECK(found.heat_loss_w_per_m ==
              doctest::Approx(found.transmittance_w_per_m_k * (at.metal_degc - at.ambient_degc))
                  .epsilon(1e-12));
        // The jacket lies between metal and air.
        CHECK(found.jacket_degc > std::min(at.metal_degc, at.ambient_degc));
        CHECK(found.jacket_degc < std::max(at.metal_degc, at.ambient_degc));
        CHECK((found.heat_loss_w_per_m > 0.0) == (at.metal_degc > at.ambient_degc));
    });
    CHECK(at_jump > 0);
    CHECK(at_jump < 40);
}

TEST_CASE("balance_heat: beyond the critical radius more insulation loses less") {
    // 0.0841 m is far beyond k/h: at most 0.1 / 4 m.
    for (const double wind : {0.5, 2.0, 12.0}) {
        for (const double metal : {-100.0, 60.0, 180.0, 400.0}) {
            double before = 1e9;
            for (double thickness = 0.01; thickness < 0.3; thickness += 0.01) {
                CAPTURE(wind);
                CAPTURE(metal);
                CAPTURE(thickness);
                const double loss = std::abs(
                    Case{metal, 12.0, 0.0841, thickness, 0.13, wind}.balance().heat_loss_w_per_m);
                CHECK(loss < before);
                before = loss;
            }
        }
    }
}

TEST_CASE("balance_heat: metal at the temperature of the air loses nothing") {
    for (const double ambient : {-20.0, 0.0, 15.0, 40.0}) {
        const HeatBalance found = Case{ambient, ambient, 0.0841, 0.05, 0.13, 2.0}.balance();
        CHECK(found.heat_loss_w_per_m == 0.0);
        CHECK(found.jacket_degc == ambient);
        CHECK(found.transmittance_w_per_m_k > 0.0);
    }
}

TEST_CASE("balance_heat: insulation saves heat of hot and of cold pipe") {
    for (const double metal : {-100.0, 80.0, 300.0}) {
        CAPTURE(metal);
        const double insulated =
            Case{metal, 12.0, 0.0841, 0.05, 0.13, 2.0}.balance().heat_loss_w_per_m;
        const double bare = bare_heat_loss_w_per_m(metal, 12.0, {0.1682, 0.9, 2.0});
        CHECK(std::abs(insulated) < 0.3 * std::abs(bare));
        CHECK((insulated > 0.0) == (bare > 0.0));
    }
}

TEST_CASE("surface coefficient: black body at 300 K radiates 4 sigma T^3, 6.12 W/m2/K") {
    // Natural convection at so small a difference is 1.25 (0.01 / D)^(1/4); ISO 12241 (recalled).
    const double degc = 300.0 - 273.15;
    const double radiation = 4.0 * 5.670374419e-8 * 300.0 * 300.0 * 300.0;
    const double natural = 1.25 * std::pow(0.01 / 1.0, 0.25);
    const double found = surface_coefficient_w_per_m2_k({1.0, 1.0, 0.0}, degc, degc);
    CHECK(found == doctest::Approx(radiation + natural).epsilon(1e-12));
    CHECK(radiation == doctest::Approx(6.124).epsilon(1e-3));
}

TEST_CASE("surface coefficient: wind and emissivity never lower it") {
    for (const double wind : {0.0, 0.2, 1.0, 5.0, 20.0}) {
        for (const double emissivity : {0.05, 0.5, 0.9}) {
            const auto at = [](double v, double e) {
                return surface_coefficient_w_per_m2_k({0.268, e, v}, 45.0, 12.0);
            };
            CHECK(at(wind + 0.5, emissivity) >= at(wind, emissivity));
            CHECK(at(wind, emissivity + 0.1) > at(wind, emissivity));
        }
    }
}

}  // namespace
}  // namespace lagline
