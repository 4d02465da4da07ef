#include "degradation/extreme_value.h"

#include <doctest/doctest.h>
#include <gsl/gsl_cdf.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace lagline {
namespace {

TEST_CASE("reduced variates of the usual return periods, as tables of Gumbel's method print them") {
    // y = -ln(-ln(1 - 1/T)), worked out apart from the program to 12 digits; hydrology texts print
    // 0.3665, 1.4999, 2.2504, 2.9702, 3.9019 and 4.6001 (4.600) for T = 2, 5, 10, 20, 50, 100.
    struct Row {
        double period, variate;
    };
    for (const Row& row : {Row{2, 0.366512920582}, Row{5, 1.49993998676}, Row{10, 2.25036732731},
                           Row{20, 2.97019524904}, Row{50, 3.90193865794}, Row{100, 4.60014922678},
                           Row{1000, 6.90725507052}}) {
        CAPTURE(row.period);
        const Gumbel standard{0.0, 1.0};
        CHECK(standard.return_level(row.period) == doctest::Approx(row.variate).epsilon(1e-11));
        CHECK(standard.quantile(1.0 - 1.0 / row.period) ==
              doctest::Approx(row.variate).epsilon(1e-11));
    }
}

TEST_CASE("the distribution against the GNU Scientific Library, gsl_cdf_gumbel1") {
    // GSL: P(x) = exp(-b exp(-a x)), so a = 1/scale and b = exp(location/scale).
    for (const Gumbel& gumbel : {Gumbel{0.0, 1.0}, Gumbel{1.2, 0.3}, Gumbel{3.5, 0.05}}) {
        const double a = 1.0 / gumbel.scale;
        const double b = std::exp(gumbel.location / gumbel.scale);
        for (const double y : {-3.0, -1.0, -0.2, 0.0, 0.4, 1.0, 3.0, 8.0}) {
            const double x = gumbel.location + y * gumbel.scale;
            CAPTURE(gumbel.location);
            CAPTURE(y);
            CHECK(gumbel.below(x) == doctest::Approx(gsl_cdf_gumbel1_P(x, a, b)).epsilon(1e-10));
            CHECK(gumbel.quantile(gumbel.below(x)) == doctest::Approx(x).epsilon(1e-9));
        }
    }
}

TEST_CASE(
    "moments: mean and standard deviation of the standard Gumbel distribution, NIST handbook") {
    // NIST/SEMATECH e-Handbook 1.3.6.6.16: mean 0.5772 scale above the location, deviation
    // pi/sqrt(6) scale; more digits of both constants are Euler's and 1.28254983016186.
    CHECK(Gumbel{0.0, 1.0}.mean() == doctest::Approx(0.577215664901533).epsilon(1e-14));
    CHECK(Gumbel{0.0, 1.0}.deviation() == doctest::Approx(1.28254983016186).epsilon(1e-14));
    const Gumbel fitted = Gumbel::of_moments(2.0, 0.5);
    CHECK(fitted.mean() == doctest::Approx(2.0).epsilon(1e-14));
    CHECK(fitted.deviation() == doctest::Approx(0.5).epsilon(1e-14));
    CHECK(fitted.scale == doctest::Approx(0.5 / 1.28254983016186).epsilon(1e-14));
}

TEST_CASE("the largest of T areas has the same scale and a location greater by scale x ln T") {
    const Gumbel one{1.5, 0.25};
    for (const double areas : {1.0, 2.0, 7.5, 100.0}) {
        CAPTURE(areas);
        const Gumbel all = one.largest_of(areas);
        CHECK(all.scale == one.scale);
        // Closed form: the distribution of the largest is the power of the one (the area ratio of
        // HSE Research Report 016, section 5.3.3).
        for (const double x : {1.0, 1.5, 2.0, 3.0}) {
            CHECK(all.below(x) == doctest::Approx(std::pow(one.below(x), areas)).epsilon(1e-12));
        }
    }
    CHECK(one.largest_of(1.0).location == one.location);
}

TEST_CASE("the most frequent maximum of simulated areas lies where the return period puts it") {
    // The largest of 20 independent areas, 40 000 times over: mean and deviation of the simulated
    // maxima against the formula, within four standard errors of the simulation.
    const Gumbel one{1.0, 0.2};
    constexpr int areas = 20;
    constexpr int trials = 40000;
    std::mt19937_64 dice{16};
    std::uniform_real_distribution<double> uniform{0.0, 1.0};
    double sum = 0.0;
    double squares = 0.0;
    int below_mode = 0;
    const Gumbel all = one.largest_of(areas);
    for (int trial = 0; trial < trials; ++trial) {
        double largest = -std::numeric_limits<double>::infinity();
        for (int area = 0; area < areas; ++area) {
            largest = std::max(largest, one.quantile(std::max(1e-300, uniform(dice))));
        }
        sum += largest;
        squares += largest * largest;
        if (largest <= all.location) ++below_mode;
    }
    const double mean = sum / trials;
    const double deviation = std::sqrt(squares / trials - mean * mean);
    CHECK(std::abs(mean - all.mean()) < 4.0 * all.deviation() / std::sqrt(trials));
    CHECK(deviation == doctest::Approx(all.deviation()).epsilon(0.03));
    // At the mode the distribution stands at 1/e.
    const double share = static_cast<double>(below_mode) / trials;
    CHECK(std::abs(share - std::exp(-1.0)) < 4.0 * std::sqrt(0.233 / trials));
}

TEST_CASE(
    "surface factor: 1 where all was seen, 1 + s ln(1/c) else, and never less for less seen") {
    CHECK(surface_factor(1.0, 0.2) == 1.0);
    CHECK(surface_factor(0.25, 0.0) == 1.0);
    CHECK(surface_factor(0.1, 0.2) == doctest::Approx(1.0 + 0.2 * std::log(10.0)).epsilon(1e-14));
    CHECK(surface_factor(0.01, 0.2) == doctest::Approx(1.92103403719762).epsilon(1e-13));
    double before = 1.0;
    for (double share = 1.0; share > 0.01; share *= 0.9) {
        CAPTURE(share);
        CHECK(surface_factor(share, 0.2) >= before);
        before = surface_factor(share, 0.2);
    }
}

}  // namespace
}  // namespace lagline
