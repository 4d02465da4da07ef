#include "ranking/sensitivity.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "ranking/sobol.h"

namespace lagline {
namespace {

// Three first-order indices of the Ishigami function with a = 7, b = 0.1, by the sampler and the
// estimator of the rank.
std::array<double, 3> ishigami(std::size_t samples, const std::string& segment) {
    const SobolPoints points(3, samples);
    std::vector<std::uint32_t> order(samples);
    keyed_permutation(draw_key(segment), order);
    const double classes = FirstOrderIndex::classes_for(samples);
    std::array<std::vector<std::uint8_t>, 3> input;
    std::vector<double> output;
    for (const std::uint32_t s : order) {
        std::array<double, 3> x{};
        for (std::size_t d = 0; d < 3; ++d) {
            const auto seed = static_cast<std::uint32_t>(
                draw_key(draw_key(segment), draw_key(std::to_string(d))));
            const double u = unit_interval(owen_scrambled(points.coordinate(d)[s], seed));
            input[d].push_back(static_cast<std::uint8_t>(u * classes));
            x[d] = std::numbers::pi * (2.0 * u - 1.0);
        }
        output.push_back(std::sin(x[0]) + 7.0 * std::pow(std::sin(x[1]), 2) +
                         0.1 * std::pow(x[2], 4) * std::sin(x[0]));
    }
    FirstOrderIndex index;
    return {index(input[0], output), index(input[1], output), index(input[2], output)};
}

TEST_CASE("first-order indices of the Ishigami function: Ishigami and Homma (1990), closed form") {
    // V1 = (1 + b pi^4/5)^2 / 2, V2 = a^2/8, V3 = 0, V = a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2.
    const double pi4 = std::pow(std::numbers::pi, 4);
    const double whole = 49.0 / 8.0 + 0.1 * pi4 / 5.0 + 0.01 * pi4 * pi4 / 18.0 + 0.5;
    const double first = std::pow(1.0 + 0.1 * pi4 / 5.0, 2) / 2.0 / whole;
    const double second = 49.0 / 8.0 / whole;
    CHECK(first == doctest::Approx(0.3139).epsilon(1e-3));
    CHECK(second == doctest::Approx(0.4424).epsilon(1e-3));
    for (const std::string segment : {"S-0001", "S-0002", "S-0003"}) {
        CAPTURE(segment);
        const auto [s1, s2, s3] = ishigami(65536, segment);
        CHECK(std::abs(s1 - first) < 0.003);
        CHECK(std::abs(s2 - second) < 0.003);
        CHECK(s3 < 0.003);
        // The usual number of samples: classes of 16 lose part of a bend and the correction for
        // chance takes a little too much from points that are spread evenly.
        const auto [few1, few2, few3] = ishigami(256, segment);
        CHECK(std::abs(few1 - first) < 0.08);
        CHECK(std::abs(few2 - second) < 0.10);
        CHECK(few3 < 0.03);
    }
}

TEST_CASE("an input that says nothing has an index near 0, one that says all has 1") {
    FirstOrderIndex index;
    std::vector<std::uint32_t> order(1024);
    keyed_permutation(draw_key("noise"), order);
    std::vector<double> output;
    std::vector<std::uint8_t> word;
    std::vector<std::uint8_t> one_word(1024, 3);
    for (std::size_t i = 0; i < order.size(); ++i) {
        output.push_back(order[i]);
        word.push_back(static_cast<std::uint8_t>(i % 4));
    }
    CHECK(index(word, output) < 0.02);
    CHECK(index(one_word, output) == 0.0);
    std::vector<double> by_word(word.begin(), word.end());
    CHECK(index(word, by_word) == doctest::Approx(1.0));
    CHECK(index(word, std::vector<double>(1024, 2.0)) == 0.0);
}

TEST_CASE("without correction for chance the mean index of noise would be 0.06, with it about 0") {
    // Sixteen classes of 256 independent draws: (16 - 1) / (256 - 1) of the variance by chance.
    FirstOrderIndex index;
    double sum = 0.0;
    std::vector<std::uint32_t> order(256);
    for (int trial = 0; trial < 400; ++trial) {
        keyed_permutation(draw_key("trial " + std::to_string(trial)), order);
        std::vector<std::uint8_t> word;
        std::vector<double> output;
        for (std::size_t i = 0; i < order.size(); ++i) {
            word.push_back(static_cast<std::uint8_t>(i % 16));
            output.push_back(order[i]);
        }
        sum += index(word, output);
    }
    // Negative ones count as 0, so half of the spread of 0.02 is left: about 0.008.
    CHECK(sum / 400.0 < 0.015);
}

}  // namespace
}  // namespace lagline
