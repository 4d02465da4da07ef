#include <doctest/doctest.h>

#include <cmath>

#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

// The recalled sequence, written down here apart from the rules.
constexpr MaintenanceSequence sequence{{{{1.0, 0.40}, {1.33, 0.70}, {1.83, 1.35}}}};

double factor(double life, double horizon, double rate) {
    return life_cycle_factor(sequence, {horizon, rate}, life);
}

TEST_CASE("the maintenance sequence by hand: P 10 y, 30 y, no discount (sequence recalled)") {
    // 0: 1; 10: 0.4; 13.3: 0.7; 18.3: 1.35; 28.3: 0.4; 31.6 is beyond.
    CHECK(factor(10.0, 30.0, 0.0) == doctest::Approx(3.85).epsilon(1e-14));
    // At 5 %: 0.4/1.05^10 + 0.7/1.05^13.3 + 1.35/1.05^18.3 + 0.4/1.05^28.3, worked out by hand as
    // 0.245565 + 0.365831 + 0.552802 + 0.100555.
    CHECK(factor(10.0, 30.0, 0.05) == doctest::Approx(2.264753).epsilon(1e-6));
    CHECK(factor(40.0, 30.0, 0.05) == 1.0);  // lasts beyond the horizon
    CHECK(factor(10.0, 10.0, 0.05) == 1.0);  // work at the horizon is not done
}

TEST_CASE("rounds follow each other: 1.83 P after the first, the same again") {
    double expected = 1.0;
    for (int round = 0; round < 4; ++round) {
        for (const auto& [at, share] : {std::pair{1.0, 0.4}, {1.33, 0.7}, {1.83, 1.35}}) {
            const double years = 4.0 * (1.83 * round + at);
            if (years < 25.0) expected += share / std::pow(1.07, years);
        }
    }
    CHECK(factor(4.0, 25.0, 0.07) == doctest::Approx(expected).epsilon(1e-13));
}

TEST_CASE("a longer life or a higher rate never costs more, a longer horizon never less") {
    for (const double rate : {0.0, 0.03, 0.07, 0.15}) {
        double before = INFINITY;
        for (double life = 0.5; life < 45.0; life += 0.35) {
            CAPTURE(life);
            const double now = factor(life, 30.0, rate);
            CHECK(now <= before);
            CHECK(now >= 1.0);
            CHECK(factor(life, 30.0, rate + 0.01) <= now);
            CHECK(factor(life, 31.0, rate) >= now);
            before = now;
        }
    }
}

TEST_CASE("a coating without a life has no finite cost") {
    CHECK(std::isinf(factor(0.0, 30.0, 0.05)));
    CHECK(std::isinf(factor(-1.0, 30.0, 0.05)));
}

TEST_CASE("the rules carry the recalled sequence") {
    const RecoatPlant plant{{}};
    const MaintenanceSequence& rules = plant.planner.rules().sequence;
    for (std::size_t i = 0; i < sequence.steps.size(); ++i) {
        CHECK(rules.steps[i].at_lives == sequence.steps[i].at_lives);
        CHECK(rules.steps[i].cost_share ==
              doctest::Approx(sequence.steps[i].cost_share).epsilon(1e-14));
    }
}

TEST_CASE("months of a window") {
    const auto months = [](int y1, unsigned m1, int y2, unsigned m2) {
        return months_between(make_date(y1, m1, 5), make_date(y2, m2, 9));
    };
    CHECK(months(2027, 4, 2027, 5) == 0b000000011000);
    CHECK(months(2027, 12, 2028, 1) == 0b100000000001);
    CHECK(months(2027, 4, 2027, 4) == 0b000000001000);
    CHECK(months(2027, 1, 2027, 12) == every_month);
    CHECK(months(2027, 6, 2030, 2) == every_month);
}

}  // namespace
}  // namespace lagline
