#include "learning/gain.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace lagline {
namespace {

TEST_CASE("a gain curve by hand: findings at places 1 and 3 of 4") {
    const auto curve = gain_curve({{0.9, true}, {0.8, false}, {0.7, true}, {0.1, false}});
    REQUIRE(curve.size() == 5);
    CHECK(curve[1].opened == 0.25);
    CHECK(curve[1].met == 0.5);
    CHECK(curve[2].met == 0.5);
    CHECK(curve[3].met == 1.0);
    // Trapezoids of width 1/4: (0 + .5)/2, .5, (.5 + 1)/2, 1.
    CHECK(area_under(curve) == doctest::Approx((0.25 + 0.5 + 0.75 + 1.0) / 4.0).epsilon(1e-15));
    CHECK(met_at(curve, 0.125) == doctest::Approx(0.25).epsilon(1e-15));
    CHECK(met_at(curve, 1.0) == 1.0);
    CHECK(met_at(curve, 0.0) == 0.0);
}

TEST_CASE("without a finding there is no curve") {
    CHECK(gain_curve({{0.9, false}, {0.1, false}}).empty());
    CHECK(met_at({}, 0.5) == 0.0);
}

TEST_CASE("equal scores share their findings, in whatever order the rows stand") {
    std::vector<Looked> cases{{1.0, true},  {1.0, false}, {1.0, false},
                              {0.5, false}, {0.5, true},  {0.2, false}};
    const auto first = gain_curve(cases);
    std::mt19937 shuffle{5};
    for (int turn = 0; turn < 20; ++turn) {
        std::ranges::shuffle(cases, shuffle);
        const auto again = gain_curve(cases);
        REQUIRE(again.size() == first.size());
        for (std::size_t i = 0; i < first.size(); ++i) {
            CHECK(again[i].opened == first[i].opened);
            CHECK(again[i].met == first[i].met);
        }
    }
}

// Every way to break the ties, one after the other.
TEST_CASE("the area with ties is the mean over all orders of the tied rows") {
    const std::vector<bool> tied{true, false, false, true, false};
    std::vector<std::size_t> places(tied.size());
    std::iota(places.begin(), places.end(), 0U);
    double sum = 0.0;
    double met_by_two = 0.0;
    int orders = 0;
    do {
        std::vector<Looked> cases{{2.0, true}, {1.0, false}};
        for (std::size_t i = 0; i < places.size(); ++i) {
            cases.push_back({0.5 - 0.01 * static_cast<double>(i), tied[places[i]]});
        }
        const auto curve = gain_curve(cases);
        sum += area_under(curve);
        met_by_two += curve[4].met;  // four of seven opened
        ++orders;
    } while (std::next_permutation(places.begin(), places.end()));
    std::vector<Looked> cases{{2.0, true}, {1.0, false}};
    for (const bool found : tied) cases.push_back({0.5, found});
    const auto curve = gain_curve(cases);
    CHECK(orders == 120);
    CHECK(area_under(curve) == doctest::Approx(sum / orders).epsilon(1e-12));
    CHECK(met_at(curve, 4.0 / 7.0) == doctest::Approx(met_by_two / orders).epsilon(1e-12));
}

TEST_CASE("the area is 0.5 when all scores are equal, best_area() when findings come first") {
    std::vector<Looked> equal;
    std::vector<Looked> perfect;
    std::vector<Looked> worst;
    for (int i = 0; i < 40; ++i) {
        const bool found = i % 5 == 0;
        equal.push_back({1.0, found});
        perfect.push_back({found ? 2.0 : 1.0, found});
        worst.push_back({found ? 1.0 : 2.0, found});
    }
    CHECK(area_under(gain_curve(equal)) == doctest::Approx(0.5).epsilon(1e-15));
    CHECK(area_under(gain_curve(perfect)) == doctest::Approx(best_area(0.2)).epsilon(1e-15));
    CHECK(best_area(0.2) == doctest::Approx(0.9).epsilon(1e-15));
    CHECK(area_under(gain_curve(worst)) == doctest::Approx(0.1).epsilon(1e-13));
}

}  // namespace
}  // namespace lagline
