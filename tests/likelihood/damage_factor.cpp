#include "likelihood/damage_factor.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "likelihood/normal.h"
#include "likelihood/updating.h"
#include "support/columns.h"
#include "support/printed.h"
#include "support/rules.h"

namespace lagline {
namespace {

using States = std::array<double, damage_states>;

constexpr double base = 1.56e-4;
constexpr double ceiling = 1.0 / base;
constexpr Scatter published{.thinning = 0.20, .flow_stress = 0.20, .pressure = 0.05};
constexpr States state_factors{1.0, 2.0, 4.0};
constexpr States low{0.5, 0.3, 0.2};

// D_f along a column of wall fractions at one strength ratio and one posterior.
Numbers damage_along(const Numbers& fraction, double strength, const States& states) {
    const Numbers ratio = Numbers::Constant(fraction.size(), strength);
    std::array<Numbers, damage_states> index;
    std::array<Numbers, damage_states> probability;
    for (std::size_t k = 0; k < damage_states; ++k) {
        index[k].resize(fraction.size());
        reliability_index(fraction, ratio, state_factors[k], published, index[k]);
        probability[k] = Numbers::Constant(fraction.size(), states[k]);
    }
    Numbers damage(fraction.size());
    damage_factor({probability[0], probability[1], probability[2]}, {index[0], index[1], index[2]},
                  base, damage);
    return damage;
}

double damage_at(double fraction, double strength, const States& states) {
    return damage_along(column({fraction}), strength, states)[0];
}

States after(const States& prior, const InspectionCounts& counts) {
    return updated_states(prior, published_rules().grid("conditional_probability"), counts);
}

// What the rate factors and scatter of the rule set must be for the constants above to be its own.
TEST_CASE("the published set holds the constants of API RP 581 (3rd ed.), Part 2, section 16") {
    const RuleSet& rules = published_rules();
    CHECK(rules.value("damage_factor_base").value() == base);
    CHECK(rules.value("cov_thinning").value() == published.thinning);
    CHECK(rules.value("cov_flow_stress").value() == published.flow_stress);
    CHECK(rules.value("cov_pressure").value() == published.pressure);
    for (std::uint8_t k = 0; k < damage_states; ++k) {
        CHECK(rules.lookup("damage_state_factor").value(k) == state_factors[k]);
    }
}

TEST_CASE(
    "D_f of API RP 581 (3rd ed.), Part 2, section 16, by wall fraction, SR_P = 0.15, low "
    "confidence; worked out apart, priors and conditionals recalled") {
    struct Row {
        double fraction;
        const char *none, *two_b;
    };
    for (const Row& row : {Row{0.00, "0.069", "0.069"}, Row{0.05, "0.129", "0.088"},
                           Row{0.10, "1.311", "0.164"}, Row{0.20, "490.356", "19.382"},
                           Row{0.30, "1266.307", "59.106"}, Row{0.40, "1999.581", "167.517"},
                           Row{0.50, "2784.071", "319.698"}, Row{0.60, "3190.747", "576.984"},
                           Row{0.80, "4397.540", "2652.535"}, Row{1.00, "5672.584", "5033.536"}}) {
        CAPTURE(row.fraction);
        CHECK(printed_like(damage_at(row.fraction, 0.15, low), row.none) == row.none);
        CHECK(printed_like(damage_at(row.fraction, 0.15, after(low, {0, 2, 0, 0})), row.two_b) ==
              row.two_b);
    }
}

TEST_CASE("D_f never exceeds 1/1.56e-4 and comes up to it") {
    CHECK(printed_like(ceiling, "6410.256") == "6410.256");
    for (const double strength : {0.01, 0.15, 0.5, 0.9, 2.0, 50.0}) {
        for (const double fraction : {0.0, 0.5, 1.0, 2.0, 50.0, 1e4, 1e8}) {
            CAPTURE(strength);
            CAPTURE(fraction);
            const double damage = damage_at(fraction, strength, low);
            CHECK(std::isfinite(damage));
            CHECK(damage >= 0.0);
            CHECK(damage <= ceiling);
        }
    }
    CHECK(damage_at(1.5, 0.9, low) == doctest::Approx(ceiling).epsilon(1e-4));
}

TEST_CASE("beta is finite where its terms vanish: no loss, all lost, no strength needed") {
    Numbers index(6);
    reliability_index(column({0.0, 1.0, 0.5, 0.0, 1.0, 0.25}),
                      column({0.0, 0.0, 0.0, 1.0, 1.0, 0.5}), 1.0, published, index);
    for (const double each : index) CHECK(std::isfinite(each));
    CHECK(index[0] == doctest::Approx(1.0 / 0.2));
    CHECK(index[1] == 0.0);
    CHECK(index[3] == 0.0);
}

// With L = D A and S = SR_P, the slope of beta in L has the sign of
//   L (0.08 S - 0.04) - (0.04 S + 0.0025 S^2),
// for the published scatter: never positive for S up to 1/2.  Above that beta falls to its least
// value and then rises to its limit -1/sqrt(0.04 + 0.04) = -3.5355: a wall lost several times over
// counts a little less than one lost just so.  D_f can then fall, by no more than the share of the
// ceiling that Phi leaves out there, 2.04e-4.
constexpr double monotone_up_to = 0.5;

TEST_CASE("the damage factor never falls as the wall fraction rises, for SR_P up to 1/2") {
    const Numbers fraction = Numbers::LinSpaced(8001, 0.0, 8.0);
    for (const double strength : {0.0, 0.02, 0.05, 0.1, 0.15, 0.25, 0.4, 0.45, monotone_up_to}) {
        for (const States& states :
             {low, after(low, {0, 1, 0, 0}), after(low, {0, 2, 0, 0}), after(low, {2, 0, 0, 0}),
              States{1, 0, 0}, States{0, 1, 0}, States{0, 0, 1}}) {
            CAPTURE(strength);
            CAPTURE(states[0]);
            const Numbers damage = damage_along(fraction, strength, states);
            for (Eigen::Index i = 1; i < damage.size(); ++i) {
                REQUIRE(damage[i] >= damage[i - 1] * (1.0 - 1e-12));
            }
        }
    }
}

TEST_CASE(
    "above SR_P = 1/2 the damage factor falls only where it has all but reached the ceiling") {
    const double most = ceiling * normal_cdf(-1.0 / std::sqrt(0.08));
    const Numbers fraction = Numbers::LinSpaced(20001, 0.0, 50.0);
    for (const double strength : {0.51, 0.6, 0.75, 0.9, 1.0, 1.5}) {
        for (const States& states : {low, States{1, 0, 0}, States{0, 0, 1}}) {
            CAPTURE(strength);
            const Numbers damage = damage_along(fraction, strength, states);
            double highest = 0.0;
            for (const double each : damage) {
                highest = std::max(highest, each);
                REQUIRE(each >= highest - most * (1.0 + 1e-9));
            }
        }
    }
    // It does happen: asserted so that the docstring above stays true.
    CHECK(damage_at(2.0, 0.9, {1, 0, 0}) > damage_at(20.0, 0.9, {1, 0, 0}));
}

TEST_CASE("random draws: damage factor in wall fraction and in strength ratio") {
    std::mt19937_64 dice{16};
    std::uniform_real_distribution<double> share{0.0, 3.0};
    std::uniform_real_distribution<double> strength{0.0, monotone_up_to};
    std::uniform_real_distribution<double> weight{0.0, 1.0};
    for (int draw = 0; draw < 20000; ++draw) {
        States states{weight(dice), weight(dice), weight(dice)};
        const double sum = states[0] + states[1] + states[2];
        for (double& each : states) each /= sum;
        const double first = share(dice);
        const double second = share(dice);
        const double ratio = strength(dice);
        CAPTURE(first);
        CAPTURE(second);
        CAPTURE(ratio);
        const double less = damage_at(std::min(first, second), ratio, states);
        const double more = damage_at(std::max(first, second), ratio, states);
        REQUIRE(less <= more * (1.0 + 1e-12));
        REQUIRE(more <= ceiling);
    }
}

TEST_CASE("better inspections of the same number never raise the damage factor: none, D, C, B, A") {
    // Holds because the better posterior leans to state 1 (see updating.cpp) and, for SR_P up to
    // 1/2, a state of faster damage is never less likely to fail.  Nothing is claimed for unequal
    // numbers of unequal kinds: the table gives no such order.
    for (const States& prior : {low, States{0.7, 0.2, 0.1}, States{0.8, 0.15, 0.05}}) {
        for (double strength = 0.02; strength <= monotone_up_to; strength += 0.04) {
            for (double fraction = 0.0; fraction <= 3.0; fraction += 0.05) {
                for (const double number : {1.0, 2.0, 3.0, 6.0}) {
                    CAPTURE(strength);
                    CAPTURE(fraction);
                    CAPTURE(number);
                    double worse = damage_at(fraction, strength, prior);
                    for (std::size_t category = telling_categories; category-- > 0;) {
                        InspectionCounts counts{};
                        counts[category] = number;
                        const double better = damage_at(fraction, strength, after(prior, counts));
                        REQUIRE(better <= worse * (1.0 + 1e-12));
                        counts[category] = number + 1.0;
                        const double more = damage_at(fraction, strength, after(prior, counts));
                        REQUIRE(more <= better * (1.0 + 1e-12));
                        worse = better;
                    }
                }
            }
        }
    }
}

TEST_CASE("wall_fraction is rate times time over wall and may exceed 1") {
    Numbers got(3);
    wall_fraction(column({0.25, 0.25, 1.0}), column({0.0, 10.0, 50.0}), column({7.0, 5.0, 5.0}),
                  got);
    CHECK(got[0] == 0.0);
    CHECK(got[1] == 0.5);
    CHECK(got[2] == 10.0);
}

TEST_CASE("probability_of_failure is the product, at most the cap") {
    Numbers got(3);
    probability_of_failure(column({3.06e-5, 3.06e-5, 3.06e-5}), 10.0, column({0.0, 100.0, 6410.0}),
                           1.0, got);
    CHECK(got[0] == 0.0);
    CHECK(got[1] == doctest::Approx(0.0306).epsilon(1e-14));
    CHECK(got[2] == 1.0);
}

}  // namespace
}  // namespace lagline
