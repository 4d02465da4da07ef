// Against adaptive quadrature of the GNU Scientific Library 2.7 (Reference Manual, chapter
// "Numerical Integration", QAG), of P(T <= u | what is known) as this test writes it down.
#include <doctest/doctest.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "degradation/weibull.h"

namespace lagline {
namespace {

struct Conditioned {
    Weibull life;
    BreakdownKnown known;

    [[nodiscard]] double hazard(double age) const {
        return std::pow(age / life.scale_years, life.shape);
    }
    /// P(T <= age | T > after, T <= before); exponentials of differences, so that no digits go.
    [[nodiscard]] double probability(double age) const {
        if (age <= known.after_years) return 0.0;
        const double begin = hazard(known.after_years);
        const double broken = -std::expm1(-(hazard(age) - begin));
        if (known.before_years < 0.0) return broken;
        if (age >= known.before_years) return 1.0;
        return broken / -std::expm1(-(hazard(known.before_years) - begin));
    }
};

double integrand(double age, void* of) { return static_cast<Conditioned*>(of)->probability(age); }

double by_quadrature(Conditioned of, double from, double to) {
    const std::unique_ptr<gsl_integration_workspace, decltype(&gsl_integration_workspace_free)>
        workspace{gsl_integration_workspace_alloc(2000), &gsl_integration_workspace_free};
    gsl_set_error_handler_off();
    // Cut where the probability bends.
    std::vector<double> cuts{from, to};
    for (const double at : {of.known.after_years, of.known.before_years}) {
        if (at > from && at < to) cuts.push_back(at);
    }
    std::sort(cuts.begin(), cuts.end());
    gsl_function function{&integrand, &of};
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        double part = 0.0;
        double error = 0.0;
        const int status = gsl_integration_qag(&function, cuts[i], cuts[i + 1], 1e-13, 1e-12, 2000,
                                               GSL_INTEG_GAUSS61, workspace.get(), &part, &error);
        REQUIRE((status == GSL_SUCCESS || error < 1e-11));
        sum += part;
    }
    return sum;
}

constexpr double shapes[] = {0.5, 1.0, 2.0, 2.5, 3.0, 6.0, 12.0, 20.0};
constexpr double scales[] = {2.0, 7.0, 15.0, 35.0};

// Below this the observation is as good as impossible under the model, which then gives up
// (weibull.cpp): the least that can be said is that it breaks down at once.
bool believable(const Conditioned& of) {
    const double sound = std::exp(-of.hazard(of.known.after_years));
    if (of.known.before_years < 0.0) return sound > 1e-11;
    const double seen =
        sound * -std::expm1(-(of.hazard(of.known.before_years) - of.hazard(of.known.after_years)));
    return seen > 1e-11;
}

void compare(const BreakdownKnown& known) {
    int compared = 0;
    for (const double shape : shapes) {
        for (const double scale : scales) {
            for (const double from : {0.0, 1.5, 8.0, 20.0}) {
                for (const double length : {0.25, 3.0, 10.0, 30.0}) {
                    const Conditioned of{{scale, shape}, known};
                    if (!believable(of)) continue;
                    CAPTURE(shape);
                    CAPTURE(scale);
                    CAPTURE(known.after_years);
                    CAPTURE(known.before_years);
                    CAPTURE(from);
                    CAPTURE(length);
                    const double expected = by_quadrature(of, from, from + length);
                    const double got = unprotected_time(of.life, known, from, from + length);
                    CAPTURE(expected);
                    CAPTURE(got);
                    CHECK(std::abs(got - expected) <= 1e-10);
                    ++compared;
                }
            }
        }
    }
    CHECK(compared >= 64);
}

TEST_CASE("unprotected_time agrees with quadrature to 1e-10: nothing known") { compare({}); }

TEST_CASE("unprotected_time agrees with quadrature to 1e-10: seen sound") {
    for (const double after : {0.5, 2.0, 5.0, 11.0}) compare({after, -1.0});
}

TEST_CASE("unprotected_time agrees with quadrature to 1e-10: seen broken down") {
    for (const double before : {1.0, 4.0, 9.0, 22.0}) compare({0.0, before});
}

TEST_CASE("unprotected_time agrees with quadrature to 1e-10: seen sound, later broken down") {
    for (const double after : {0.5, 3.0, 8.0}) {
        for (const double before : {after + 0.5, after + 4.0, after + 15.0}) {
            compare({after, before});
        }
    }
}

TEST_CASE("what the model takes for impossible still gives a time within the interval") {
    for (const double shape : {0.5, 2.5, 20.0, 1e3, 1e6}) {
        const Weibull life{5.0, shape};
        for (const BreakdownKnown& known :
             {BreakdownKnown{40.0, -1.0}, BreakdownKnown{0.0, 0.01}, BreakdownKnown{40.0, 41.0},
              BreakdownKnown{60.0, -1.0}, BreakdownKnown{3.0, 3.0}}) {
            CAPTURE(shape);
            CAPTURE(known.after_years);
            CAPTURE(known.before_years);
            const double time = unprotected_time(life, known, 10.0, 50.0);
            CHECK(time >= 0.0);
            CHECK(time <= 40.0);
            if (known.before_years >= 0.0) {
                CHECK(time >= 50.0 - std::max(10.0, known.before_years));
            }
            if (known.after_years > 50.0) CHECK(time == 0.0);
        }
    }
}

TEST_CASE("unprotected_time: an older coating is never less exposed over the same years") {
    for (const double shape : shapes) {
        for (const double scale : scales) {
            double before = 0.0;
            for (double age = 0.0; age < 60.0; age += 0.5) {
                CAPTURE(shape);
                CAPTURE(scale);
                CAPTURE(age);
                const double now = unprotected_time({scale, shape}, {}, age, age + 6.0);
                CHECK(now >= before - 1e-12);
                CHECK(now <= 6.0);
                before = now;
            }
        }
    }
}

TEST_CASE("unprotected_time: a coating seen sound later is never more exposed") {
    for (const double shape : {1.0, 2.0, 2.5, 3.0, 6.0}) {
        for (const double scale : scales) {
            for (const double broken : {-1.0, 30.0}) {
                double before = 1e9;
                for (double seen = 0.0; seen < 29.0; seen += 0.5) {
                    if (!believable({{scale, shape}, {seen, broken}})) break;
                    CAPTURE(shape);
                    CAPTURE(scale);
                    CAPTURE(broken);
                    CAPTURE(seen);
                    const double now = unprotected_time({scale, shape}, {seen, broken}, 2.0, 40.0);
                    CHECK(now <= before + 1e-10);
                    before = now;
                }
            }
        }
    }
}

TEST_CASE("unprotected_time adds up over adjoining intervals") {
    const Weibull life{12.0, 2.5};
    for (const BreakdownKnown& known :
         {BreakdownKnown{}, BreakdownKnown{4.0, -1.0}, BreakdownKnown{4.0, 13.0}}) {
        const double whole = unprotected_time(life, known, 1.0, 25.0);
        const double parts =
            unprotected_time(life, known, 1.0, 9.0) + unprotected_time(life, known, 9.0, 25.0);
        CHECK(parts == doctest::Approx(whole).epsilon(1e-12));
    }
}

}  // namespace
}  // namespace lagline
