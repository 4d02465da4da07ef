#include "likelihood/wall_left.h"

#include <doctest/doctest.h>
#include <gsl/gsl_cdf.h>

#include <array>

#include "support/columns.h"

namespace lagline {
namespace {

constexpr std::array<double, damage_states> factors{1.0, 2.0, 4.0};
constexpr double cov = 0.2;

struct Case {
    double wall_mm;
    double fraction;
    double minimum_mm;
    std::array<double, damage_states> states;
};

double expected_of(const Case& at) {
    const Numbers wall = column({at.wall_mm});
    const Numbers fraction = column({at.fraction});
    const std::array<Numbers, damage_states> states{column({at.states[0]}), column({at.states[1]}),
                                                    column({at.states[2]})};
    Numbers left(1);
    expected_wall(wall, fraction, {states[0], states[1], states[2]}, factors, left);
    return left[0];
}

double below_of(const Case& at) {
    const Numbers wall = column({at.wall_mm});
    const Numbers fraction = column({at.fraction});
    const Numbers minimum = column({at.minimum_mm});
    const std::array<Numbers, damage_states> states{column({at.states[0]}), column({at.states[1]}),
                                                    column({at.states[2]})};
    Numbers below(1);
    below_minimum(wall, fraction, minimum, {states[0], states[1], states[2]}, factors, cov, below);
    return below[0];
}

TEST_CASE("expected wall of case W1, by hand: only the first two states have wall left") {
    // A_rt = 0.55804 of 7.112 mm: state 1 leaves 0.44196, states 2 and 3 nothing.
    const Case w1{7.112, 0.558035714, 2.794, {0.5, 0.3, 0.2}};
    CHECK(expected_of(w1) == doctest::Approx(0.5 * 7.112 * (1.0 - 0.558035714)).epsilon(1e-14));
    // A_rt = 0.2: 0.8, 0.6 and 0.2 left.
    const Case thin{10.0, 0.2, 3.0, {0.5, 0.3, 0.2}};
    CHECK(expected_of(thin) == doctest::Approx(10.0 * (0.5 * 0.8 + 0.3 * 0.6 + 0.2 * 0.2)));
}

TEST_CASE(
    "chance below the minimum against the normal distribution of the GNU Scientific Library") {
    for (const Case& at :
         {Case{7.11, 0.2, 2.8, {0.5, 0.3, 0.2}}, Case{7.11, 0.05, 6.5, {0.7, 0.2, 0.1}},
          Case{3.9, 0.6, 2.0, {0.994, 0.00595, 0.00005}},
          Case{12.7, 0.9, 3.3, {0.8, 0.15, 0.05}}}) {
        double expected = 0.0;
        for (std::size_t k = 0; k < damage_states; ++k) {
            const double loss = factors[k] * at.fraction * at.wall_mm;
            // P(loss > wall - minimum) for a normal loss.
            expected +=
                at.states[k] * gsl_cdf_gaussian_Q(at.wall_mm - at.minimum_mm - loss, cov * loss);
        }
        CAPTURE(at.fraction);
        CHECK(below_of(at) == doctest::Approx(expected).epsilon(1e-12));
    }
}

TEST_CASE("without loss the wall is as it was found: below the minimum for certain or not at all") {
    CHECK(below_of({5.0, 0.0, 3.0, {0.5, 0.3, 0.2}}) == 0.0);
    CHECK(below_of({2.9, 0.0, 3.0, {0.5, 0.3, 0.2}}) == doctest::Approx(1.0));
    CHECK(expected_of({5.0, 0.0, 3.0, {0.5, 0.3, 0.2}}) == doctest::Approx(5.0));
}

TEST_CASE("more loss never leaves more wall, nor makes falling below the minimum less likely") {
    const std::array<double, damage_states> states{0.7, 0.2, 0.1};
    double wall = 8.0;
    double below = 0.0;
    for (int step = 1; step <= 400; ++step) {
        const Case at{8.0, 0.005 * step, 3.0, states};
        CAPTURE(at.fraction);
        REQUIRE(expected_of(at) <= wall);
        REQUIRE(below_of(at) >= below);
        wall = expected_of(at);
        below = below_of(at);
    }
    CHECK(wall == doctest::Approx(0.0));
    CHECK(below > 0.99);
}

}  // namespace
}  // namespace lagline
