#include "learning/score.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

namespace lagline {
namespace {

TEST_CASE("Wilson interval reproduces Newcombe 1998, Table I, method 3 (recalled), 95 %") {
    struct Row {
        std::size_t happened, count;
        double low, high;
    };
    // Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine
    // 17, 857-872: printed to four digits.
    for (const auto& row : {Row{81, 263, 0.2553, 0.3662}, Row{15, 148, 0.0624, 0.1605},
                            Row{0, 20, 0.0000, 0.1611}, Row{1, 29, 0.0061, 0.1718}}) {
        CAPTURE(row.happened);
        const Interval interval = wilson_interval(row.happened, row.count, 1.959964);
        CHECK(std::abs(interval.low - row.low) <= 0.00005 + 1e-9);
        CHECK(std::abs(interval.high - row.high) <= 0.00005 + 1e-9);
    }
}

TEST_CASE("the ends of a Wilson interval solve the score equation") {
    const double z = 1.645;
    const Interval interval = wilson_interval(7, 31, z);
    for (const double end : {interval.low, interval.high}) {
        const double score = std::abs(7.0 / 31.0 - end) / std::sqrt(end * (1.0 - end) / 31.0);
        CHECK(score == doctest::Approx(z).epsilon(1e-12));
    }
}

TEST_CASE("Brier score by hand") {
    const std::vector<Forecast> forecasts{{0.9, true}, {0.6, false}, {0.0, false}, {0.3, true}};
    const auto bands = calibration(forecasts);
    // .01 + .36 + 0 + .49, over four.
    CHECK(brier_score(forecasts, bands).score == doctest::Approx(0.215).epsilon(1e-15));
    CHECK(brier_score(forecasts, bands).uncertainty == doctest::Approx(0.25).epsilon(1e-15));
}

// Murphy 1973: with forecasts of few values score = reliability - resolution + uncertainty exactly.
TEST_CASE("Murphy's three parts add up when every band has one forecast value") {
    std::mt19937 dice{11};
    std::vector<Forecast> forecasts;
    for (const double value : {0.005, 0.03, 0.07, 0.15, 0.4, 0.9}) {
        std::bernoulli_distribution happens{0.5 * value + 0.1};
        for (int i = 0; i < 50; ++i) forecasts.push_back({value, happens(dice)});
    }
    const BrierScore brier = brier_score(forecasts, calibration(forecasts));
    CHECK(brier.within == doctest::Approx(0.0).epsilon(1e-14));
    CHECK(brier.score ==
          doctest::Approx(brier.reliability - brier.resolution + brier.uncertainty).epsilon(1e-12));
    CHECK(brier.reliability > 0.0);
    CHECK(brier.resolution > 0.0);
}

TEST_CASE("what the bands hide is told: forecasts that differ within a band") {
    const std::vector<Forecast> forecasts{{0.21, false}, {0.34, true}};  // one band
    const BrierScore brier = brier_score(forecasts, calibration(forecasts));
    CHECK(brier.resolution == 0.0);
    CHECK(brier.within != 0.0);
    CHECK(brier.score ==
          doctest::Approx(brier.reliability - brier.resolution + brier.uncertainty + brier.within)
              .epsilon(1e-14));
}

TEST_CASE("stating the mean has no skill, knowing the future all of it") {
    std::vector<Forecast> mean;
    std::vector<Forecast> knows;
    for (int i = 0; i < 20; ++i) {
        mean.push_back({0.25, i % 4 == 0});
        knows.push_back({i % 4 == 0 ? 1.0 : 0.0, i % 4 == 0});
    }
    CHECK(brier_score(mean, calibration(mean)).skill() == doctest::Approx(0.0).epsilon(1e-14));
    CHECK(brier_score(knows, calibration(knows)).skill() == 1.0);
}

TEST_CASE("a forecast belongs to the band that begins with it; 1 to the last") {
    const std::vector<Forecast> forecasts{{0.05, true}, {0.049, false}, {1.0, true}, {0.0, false}};
    const auto bands = calibration(forecasts);
    REQUIRE(bands.size() == 4);
    CHECK(bands[0].from == 0.0);
    CHECK(bands[0].count == 1);
    CHECK(bands[1].to == 0.05);
    CHECK(bands[1].happened == 0);
    CHECK(bands[2].from == 0.05);
    CHECK(bands[2].happened == 1);
    CHECK(bands[3].to == 1.0);
    CHECK(bands[3].observed() == 1.0);
}

}  // namespace
}  // namespace lagline
