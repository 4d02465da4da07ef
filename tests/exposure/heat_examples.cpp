// Worked pipe examples of textbooks: radii in m, conductivities in W/m/K, coefficients in W/m2/K.
// Two published answers of the same kind are wrong and are not used here.  Of the example with two
// insulations in either order (Sachdeva 3.15) the radii and conductivities are not at hand.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "exposure/heat_balance.h"

namespace lagline {
namespace {

constexpr double known = std::numeric_limits<double>::infinity();  // surface of known temperature
constexpr double two_pi = 2.0 * std::numbers::pi;

void agrees(const char* what, double got, double printed, double half_unit) {
    CAPTURE(what);
    CAPTURE(got);
    CAPTURE(printed);
    CHECK(std::abs(got - printed) <= half_unit);
}

double drop_k(const PipeLayer& layer, double loss_w_per_m) {
    return loss_w_per_m * layer_resistance_m_k_per_w(std::array{layer});
}

TEST_CASE("heat loss: Cengel, Heat Transfer, example 3-8, insulated steam pipe") {
    const std::array layers{PipeLayer{0.025, 0.0275, 80.0}, PipeLayer{0.0275, 0.0575, 0.05}};
    const double loss = heat_loss_w_per_m(320.0, 5.0, layers, 60.0, 18.0);
    agrees("loss, printed", loss, 120.786, 5e-4);
    agrees("drop in the pipe wall, printed", drop_k(layers[0], loss), 0.022903, 5e-7);
    agrees("drop in the insulation, printed", drop_k(layers[1], loss), 283.5877, 5e-5);
    agrees("surface, recomputed", 5.0 + loss / (18.0 * two_pi * 0.0575), 23.5736, 5e-5);
}

TEST_CASE("heat loss: worked example of an open heat transfer library, 3 in pipe in 50 mm") {
    const double r0 = 0.0779272 / 2.0;
    const double r1 = r0 + 0.0054864;
    const double r2 = r1 + 0.05;
    const std::array layers{PipeLayer{r0, r1, 56.045}, PipeLayer{r1, r2, 0.0598535265}};
    const double loss = heat_loss_w_per_m(180.0, 28.0, layers, 1e12, 22.697193);
    agrees("loss, printed", loss, 73.12000884, 5e-9);
    agrees("pipe outside, printed", 453.15 - drop_k(layers[0], loss), 453.1226456, 5e-8);
    agrees("jacket, printed", 301.15 + loss / (22.697193 * two_pi * r2), 306.5785301, 5e-8);
    agrees("transmittance of the outside, printed", loss / (two_pi * r2 * 152.0), 0.81060787, 5e-9);
}

TEST_CASE("heat loss: Geankoplis, example 4.3-2, steel tube in insulation") {
    const std::array layers{PipeLayer{0.0127, 0.0254, 21.63}, PipeLayer{0.0254, 0.0508, 0.2423}};
    const double loss = heat_loss_w_per_m(811.0, 310.8, layers, known, known);
    agrees("loss of 0.305 m, printed", 0.305 * loss, 331.4, 0.05);
    agrees("loss of 0.305 m, recomputed", 0.305 * loss, 331.370, 5e-4);
    agrees("interface, printed", 811.0 - drop_k(layers[0], loss), 805.5, 0.05);
    agrees("interface, recomputed", 811.0 - drop_k(layers[0], loss), 805.459, 5e-4);
}

TEST_CASE("heat loss: Holman, example 2-2, stainless tube in asbestos") {
    const std::array layers{PipeLayer{0.01, 0.02, 19.0}, PipeLayer{0.02, 0.05, 0.2}};
    const double loss = heat_loss_w_per_m(600.0, 100.0, layers, known, known);
    agrees("loss, printed", loss, 680.0, 0.5);
    agrees("loss, recomputed", loss, 680.3025, 5e-5);
    agrees("interface, printed", 600.0 - drop_k(layers[0], loss), 596.0, 0.5);
}

TEST_CASE("heat loss: Gavhane, example 2.22, recomputed without its rounded resistances") {
    const std::array layers{PipeLayer{0.0125, 0.0165, 44.97}, PipeLayer{0.0165, 0.0545, 0.175}};
    const double loss = heat_loss_w_per_m(451.0, 294.0, layers, 5678.0, 11.36);
    agrees("loss, printed with rounded resistances", loss, 116.63, 0.1);
    agrees("loss, recomputed", loss, 116.55989, 5e-6);
    agrees("surface, recomputed", 294.0 + loss / (11.36 * two_pi * 0.0545), 323.964, 5e-4);
}

TEST_CASE("heat loss: Dutta, example 3.4, thickness for a skin of 55 degC") {
    const auto loss_at = [](double outer_m) {
        const std::array layers{PipeLayer{0.0485, 0.057, 43.0}, PipeLayer{0.057, outer_m, 0.1}};
        return heat_loss_w_per_m(234.0, 30.0, layers, known, 8.0);
    };
    // The skin cools as the insulation grows: halve the interval.
    double low = 0.06;
    double high = 0.3;
    for (int step = 0; step < 100; ++step) {
        const double middle = (low + high) / 2.0;
        const double skin = 30.0 + loss_at(middle) / (8.0 * two_pi * middle);
        (skin > 55.0 ? low : high) = middle;
    }
    agrees("outer radius, recomputed", low, 0.1200700, 5e-8);
    agrees("thickness in mm, recomputed", (low - 0.057) * 1e3, 63.070, 5e-4);
    agrees("loss, printed", loss_at(low), 150.9, 0.05);
    agrees("loss, recomputed", loss_at(low), 150.88435, 5e-6);
}

TEST_CASE("heat loss is greatest at the critical radius k/h: four printed values") {
    struct Row {
        double conductivity, coefficient, critical_cm;
    };
    for (const auto& row :
         {Row{0.2, 10.0, 2.0}, Row{0.2, 50.0, 0.4}, Row{0.05, 10.0, 0.5}, Row{0.05, 50.0, 0.1}}) {
        CAPTURE(row.conductivity);
        CAPTURE(row.coefficient);
        const double critical_m = row.critical_cm / 100.0;
        const auto loss = [&](double outer_m) {
            const std::array layer{PipeLayer{critical_m / 4.0, outer_m, row.conductivity}};
            return heat_loss_w_per_m(100.0, 20.0, layer, known, row.coefficient);
        };
        for (const double off : {1e-4, 1e-2, 0.5}) {
            CHECK(loss(critical_m) > loss(critical_m * (1.0 - off)));
            CHECK(loss(critical_m) > loss(critical_m * (1.0 + off)));
        }
    }
}

}  // namespace
}  // namespace lagline
