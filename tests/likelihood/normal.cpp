#include "likelihood/normal.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "support/printed.h"

namespace lagline {
namespace {

TEST_CASE("normal_cdf reproduces Abramowitz & Stegun (1964), Table 26.1, column P(x) (recalled)") {
    struct Row {
        double x;
        const char* p;
    };
    for (const Row& row : {Row{0.0, "0.500000000000000"}, Row{0.5, "0.691462461274013"},
                           Row{1.0, "0.841344746068543"}, Row{1.5, "0.933192798731142"},
                           Row{2.0, "0.977249868051821"}, Row{2.5, "0.993790334674224"},
                           Row{3.0, "0.998650101968370"}, Row{3.5, "0.999767370920964"},
                           Row{4.0, "0.999968328758167"}, Row{4.5, "0.999996602326875"},
                           Row{5.0, "0.999999713348428"}}) {
        CAPTURE(row.x);
        CHECK(printed_like(normal_cdf(row.x), row.p) == row.p);
        // The lower half of the table is its mirror image.
        CHECK(normal_cdf(-row.x) == doctest::Approx(1.0 - normal_cdf(row.x)).epsilon(1e-9));
    }
}

TEST_CASE("normal_cdf reproduces Abramowitz & Stegun (1964), Table 26.2, -log Q(x) (recalled)") {
    struct Row {
        double x;
        const char* minus_log;
    };
    for (const Row& row : {Row{5.0, "6.54265"}, Row{10.0, "23.11805"}, Row{20.0, "88.56010"},
                           Row{30.0, "197.30921"}}) {
        CAPTURE(row.x);
        CHECK(printed_like(-std::log10(normal_cdf(-row.x)), row.minus_log) == row.minus_log);
    }
}

// Abramowitz & Stegun 26.2.12: Q(x) = Z(x)/x (1 - 1/x^2 + 1 3/x^4 - ...); the error is less than
// the first term left out and of its sign.
double asymptotic_tail(double at) {
    const long double x = at;
    long double term = 1.0L;
    long double sum = 0.0L;
    for (int n = 1; std::abs(term) > 1e-18L; ++n) {
        sum += term;
        term *= -(2.0L * static_cast<long double>(n) - 1.0L) / (x * x);
    }
    const long double density =
        std::exp(-x * x / 2.0L) / std::sqrt(2.0L * std::numbers::pi_v<long double>);
    return static_cast<double>(density / x * sum);
}

TEST_CASE("normal_cdf in the far lower tail: asymptotic series, Abramowitz & Stegun 26.2.12") {
    for (double x = 12.0; x <= 37.5; x += 0.0078125) {
        CAPTURE(x);
        CHECK(std::abs(normal_cdf(-x) / asymptotic_tail(x) - 1.0) <= 2e-15);
    }
}

TEST_CASE("normal_cdf in the far lower tail: values to 17 digits by 40-digit arithmetic") {
    // erfc(x / sqrt 2) / 2 evaluated to 40 digits apart from this program.
    struct Row {
        double x, q;
    };
    for (const Row& row :
         {Row{5.0, 2.8665157187919391167e-7}, Row{6.0, 9.865876450376981407e-10},
          Row{8.0, 6.2209605742717841235e-16}, Row{10.0, 7.619853024160526066e-24},
          Row{15.0, 3.6709661993127508858e-51}, Row{20.0, 2.7536241186062336951e-89}}) {
        CAPTURE(row.x);
        CHECK(std::abs(normal_cdf(-row.x) / row.q - 1.0) <= 1e-13);
    }
}

TEST_CASE("normal_cdf between the tails: erfc of the C library in extended precision") {
    for (double x = -12.0; x <= 9.0; x += 0.00048828125) {
        CAPTURE(x);
        const long double expected =
            std::erfc(-static_cast<long double>(x) / std::numbers::sqrt2_v<long double>) / 2.0L;
        CHECK(std::abs(static_cast<double>(normal_cdf(x) / expected - 1.0L)) <= 2e-15);
    }
}

TEST_CASE("normal_cdf of many is that of each, to the bit") {
    std::mt19937_64 random{11};
    std::uniform_real_distribution<double> any{-41.0, 41.0};
    for (const Eigen::Index size : {1, 2, 3, 7, 64, 1001}) {
        Numbers x = Numbers::NullaryExpr(size, [&] { return any(random); });
        Numbers p(size);
        normal_cdf(x, p);
        for (Eigen::Index i = 0; i < size; ++i) CHECK(p[i] == normal_cdf(x[i]));
    }
}

TEST_CASE("normal_cdf at the ends, and of no number") {
    constexpr double endless = std::numeric_limits<double>::infinity();
    CHECK(normal_cdf(-endless) == 0.0);
    CHECK(normal_cdf(endless) == 1.0);
    CHECK(normal_cdf(-38.5) == 0.0);
    CHECK(normal_cdf(-38.4) > 0.0);
    CHECK(std::isnan(normal_cdf(std::numeric_limits<double>::quiet_NaN())));
}

TEST_CASE("normal_cdf never falls, stays in [0, 1] and ends at 0 and 1") {
    double before = 0.0;
    for (double x = -45.0; x <= 45.0; x += 1.0 / 64.0) {
        const double here = normal_cdf(x);
        REQUIRE(here >= before);
        REQUIRE(here <= 1.0);
        before = here;
    }
    CHECK(normal_cdf(-45.0) == 0.0);
    CHECK(normal_cdf(45.0) == 1.0);
    CHECK(normal_cdf(0.0) == 0.5);
}

}  // namespace
}  // namespace lagline
