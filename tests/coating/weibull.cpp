// Against the GNU Scientific Library 2.7 (Galassi and others, GNU Scientific Library Reference
// Manual, chapters "Exponential Functions" and "Gamma and Beta Functions").
#include "degradation/weibull.h"

#include <doctest/doctest.h>
#include <gsl/gsl_sf_exp.h>
#include <gsl/gsl_sf_gamma.h>

#include <cmath>
#include <initializer_list>

namespace lagline {
namespace {

constexpr double tolerance = 1e-12;

template <class Check>
void for_every_life(const Check& check) {
    for (const double shape : {0.5, 0.8, 1.0, 1.7, 2.0, 2.5, 3.0, 5.0, 8.0, 12.5, 20.0}) {
        for (const double scale : {0.3, 2.0, 9.0, 15.0, 40.0}) {
            for (const double age :
                 {1e-3, 0.1, 0.5, 1.0, 2.0, 4.5, 8.9, 9.0, 14.0, 25.0, 60.0, 200.0}) {
                CAPTURE(shape);
                CAPTURE(scale);
                CAPTURE(age);
                check(Weibull{scale, shape}, age, std::pow(age / scale, shape));
            }
        }
    }
}

TEST_CASE("broken_by agrees with gsl_sf_expm1 to 1e-12") {
    for_every_life([](const Weibull& life, double age, double x) {
        const double expected = x > 700.0 ? 1.0 : -gsl_sf_expm1(-x);
        CAPTURE(expected);
        CHECK(std::abs(life.broken_by(age) - expected) <= tolerance * expected);
    });
}

TEST_CASE("sound_time agrees with gsl_sf_gamma x gsl_sf_gamma_inc_P to 1e-12") {
    for_every_life([](const Weibull& life, double age, double x) {
        const double a = 1.0 / life.shape;
        const double expected = life.scale_years * a * gsl_sf_gamma(a) * gsl_sf_gamma_inc_P(a, x);
        CAPTURE(expected);
        CHECK(std::abs(life.sound_time(age) - expected) <= tolerance * expected);
    });
}

TEST_CASE("a life without memory: shape 1 has the exponential in closed form") {
    const Weibull life{8.0, 1.0};
    CHECK(life.broken_by(8.0) == doctest::Approx(1.0 - std::exp(-1.0)).epsilon(1e-15));
    CHECK(life.sound_time(8.0) == doctest::Approx(8.0 * (1.0 - std::exp(-1.0))).epsilon(1e-14));
}

TEST_CASE("no coating is broken from the start; nothing is broken before it exists") {
    const Weibull none{0.0, 1.0};
    CHECK(none.broken_by(0.0) == 1.0);
    CHECK(none.broken_by(10.0) == 1.0);
    CHECK(none.sound_time(10.0) == 0.0);
    CHECK(unprotected_time(none, {}, 2.0, 12.0) == 10.0);
    const Weibull some{9.0, 2.5};
    CHECK(some.broken_by(0.0) == 0.0);
    CHECK(some.sound_time(0.0) == 0.0);
}

}  // namespace
}  // namespace lagline
