#include "ranking/sobol.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>
#include <vector>

namespace lagline {
namespace {

std::vector<double> drawn(const SobolPoints& points, std::size_t dimension,
                          const std::string& segment) {
    const std::uint64_t name = draw_key(segment);
    std::vector<std::uint32_t> order(points.samples());
    keyed_permutation(name, order);
    const auto seed =
        static_cast<std::uint32_t>(draw_key(name, draw_key(std::to_string(dimension))));
    std::vector<double> values;
    for (const std::uint32_t s : order) {
        values.push_back(unit_interval(owen_scrambled(points.coordinate(dimension)[s], seed)));
    }
    return values;
}

double correlation(const std::vector<double>& x, const std::vector<double>& y) {
    double sum = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) sum += (x[i] - 0.5) * (y[i] - 0.5);
    return sum / static_cast<double>(x.size()) * 12.0;
}

TEST_CASE("points are those of SciPy 1.10 qmc.Sobol(d=40, scramble=False)") {
    // Printed by scipy.stats.qmc.Sobol(d=40, scramble=False, bits=32).random(256), times 2^32,
    // columns 0, 1, 2, 7 and 39.  SciPy has the direction numbers of Joe and Kuo (2008).
    const SobolPoints points(40, 256);
    struct Row {
        std::size_t index;
        std::array<std::uint32_t, 5> at;
    };
    const std::array<std::size_t, 5> columns{0, 1, 2, 7, 39};
    for (const Row& row :
         {Row{0, {0, 0, 0, 0, 0}},
          Row{2, {3221225472U, 1073741824U, 1073741824U, 3221225472U, 1073741824U}},
          Row{100, {1778384896U, 1107296256U, 3321888768U, 2046820352U, 570425344U}},
          Row{255, {16777216U, 4278190080U, 3305111552U, 754974720U, 4177526784U}}}) {
        for (std::size_t c = 0; c < columns.size(); ++c) {
            CAPTURE(row.index);
            CAPTURE(columns[c]);
            CHECK(points.coordinate(columns[c])[row.index] == row.at[c]);
        }
    }
}

TEST_CASE("scrambled points keep their stratification (Owen 1995)") {
    const SobolPoints points(12, 256);
    for (const std::string segment : {"S-0001", "S-0002", "P-17"}) {
        for (std::size_t d = 0; d < points.dimensions(); ++d) {
            std::array<int, 256> hits{};
            for (const double u : drawn(points, d, segment)) {
                REQUIRE(u > 0.0);
                REQUIRE(u < 1.0);
                ++hits[static_cast<std::size_t>(u * 256.0)];
            }
            CAPTURE(segment);
            CAPTURE(d);
            CHECK(std::ranges::all_of(hits, [](int n) { return n == 1; }));
        }
        // The first two dimensions are a net: each of the 2^a x 2^(8-a) boxes holds one point.
        const auto x = drawn(points, 0, segment);
        const auto y = drawn(points, 1, segment);
        for (unsigned a = 0; a <= 8; ++a) {
            std::set<std::pair<unsigned, unsigned>> boxes;
            for (std::size_t s = 0; s < x.size(); ++s) {
                boxes.emplace(static_cast<unsigned>(std::ldexp(x[s], static_cast<int>(a))),
                              static_cast<unsigned>(std::ldexp(y[s], static_cast<int>(8 - a))));
            }
            CHECK(boxes.size() == 256);
        }
    }
}

TEST_CASE("scrambling turns a digit by a hash of those before it, and is one to one") {
    std::set<std::uint32_t> seen;
    std::array<int, 8> turned{};
    for (std::uint32_t x = 0; x < 256; ++x) {
        const std::uint32_t y = owen_scrambled(x << 24, 12345);
        seen.insert(y);
        // What stands behind a digit does not touch it.
        CHECK((owen_scrambled((x << 24) | 0xffffU, 12345) >> 24) == (y >> 24));
        for (std::size_t bit = 0; bit < 8; ++bit) {
            turned[bit] += static_cast<int>((((x << 24) ^ y) >> (31 - bit)) & 1U);
        }
    }
    CHECK(seen.size() == 256);
    CHECK((turned[0] == 0 || turned[0] == 256));
    for (std::size_t bit = 4; bit < 8; ++bit) {
        CHECK(turned[bit] > 64);
        CHECK(turned[bit] < 192);
    }
}

TEST_CASE("draws of two segments have nothing to do with each other") {
    const SobolPoints points(8, 256);
    // Of 4950 pairs of independent draws the correlation has standard deviation 1/sqrt(256) and the
    // mean of its square is 1/255; without the shuffle pairs are correlated by up to 1.
    double squares = 0.0;
    double greatest = 0.0;
    int pairs = 0;
    std::vector<std::vector<double>> all;
    for (int i = 0; i < 100; ++i) all.push_back(drawn(points, 3, "S-" + std::to_string(i)));
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const double r = correlation(all[i], all[j]);
            squares += r * r;
            greatest = std::max(greatest, std::abs(r));
            ++pairs;
        }
    }
    CHECK(squares / pairs == doctest::Approx(1.0 / 255.0).epsilon(0.1));
    CHECK(greatest < 5.0 / 16.0);
}

TEST_CASE("a permutation holds each index once and follows from its key") {
    std::vector<std::uint32_t> first(1000);
    std::vector<std::uint32_t> again(1000);
    std::vector<std::uint32_t> other(1000);
    keyed_permutation(draw_key("S-1"), first);
    keyed_permutation(draw_key("S-1"), again);
    keyed_permutation(draw_key("S-2"), other);
    CHECK(first == again);
    CHECK(first != other);
    CHECK(std::set<std::uint32_t>(first.begin(), first.end()).size() == 1000);
    CHECK(*std::ranges::max_element(first) == 999);
}

}  // namespace
}  // namespace lagline
