#include "likelihood/updating.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "degradation/history.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

using States = std::array<double, damage_states>;

constexpr States low{0.5, 0.3, 0.2};
constexpr std::array<States, 5> priors{
    {{0.5, 0.3, 0.2}, {0.7, 0.2, 0.1}, {0.8, 0.15, 0.05}, {0.01, 0.01, 0.98}, {0.98, 0.01, 0.01}}};

const GridTable& conditional() { return published_rules().grid("conditional_probability"); }

States updated(const States& prior, const InspectionCounts& counts) {
    return updated_states(prior, conditional(), counts);
}

// States in the better order: as much on state 1, and as little on state 3, as `worse` or more so.
// This is the order (stochastic dominance) in which a damage factor cannot rise.
bool no_worse(const States& better, const States& worse) {
    constexpr double rounding = 1e-12;
    return better[0] >= worse[0] - rounding && better[2] <= worse[2] + rounding;
}

void require_probabilities(const States& states) {
    for (const double each : states) {
        REQUIRE(std::isfinite(each));
        REQUIRE(each >= 0.0);
        REQUIRE(each <= 1.0);
    }
    REQUIRE(states[0] + states[1] + states[2] == doctest::Approx(1.0).epsilon(1e-14));
}

InspectionCounts draw_counts(std::mt19937_64& dice, int most) {
    std::uniform_int_distribution<int> count{0, most};
    InspectionCounts counts{};
    for (double& each : counts) each = count(dice);
    return counts;
}

TEST_CASE(
    "the posterior of API RP 581 (3rd ed.), Part 2, step by step for one B (recalled table)") {
    // I = (0.5 0.7, 0.3 0.2, 0.2 0.1) = (0.35, 0.06, 0.02), sum 0.43.
    const States got = updated(low, {0, 1, 0, 0});
    CHECK(got[0] == doctest::Approx(0.35 / 0.43).epsilon(1e-14));
    CHECK(got[1] == doctest::Approx(0.06 / 0.43).epsilon(1e-14));
    CHECK(got[2] == doctest::Approx(0.02 / 0.43).epsilon(1e-14));
}

TEST_CASE("no inspection leaves the prior, to the last bit when it sums to 1") {
    for (const States& prior : priors) {
        const States got = updated(prior, {0, 0, 0, 0});
        for (std::size_t k = 0; k < damage_states; ++k) {
            CHECK(got[k] == doctest::Approx(prior[k]).epsilon(1e-15));
        }
    }
}

TEST_CASE("ineffective inspections are not counted: they leave the prior however many they are") {
    std::vector<Cells> looked;
    for (int i = 0; i < 40; ++i) {
        looked.push_back(inspection_cells("S-1", "2020-01-01", {{"technique", "external_visual"}}));
    }
    const Plant plant =
        assemble({.segments = {segment_cells("S-1")}, .inspections = looked}, published_rules());
    const auto effectiveness = inspection_effectiveness(plant, published_rules());
    for (const std::uint8_t each : effectiveness) {
        CHECK(each == code_of(published_rules(), "effectiveness", "E"));
    }
    const auto counts = count_inspections(plant, 0, make_date(2025, 1, 1), effectiveness);
    CHECK(counts == InspectionCounts{0, 0, 0, 0});
    CHECK(updated(low, counts) == updated(low, {0, 0, 0, 0}));
}

TEST_CASE("inspections are counted by category up to and including the date") {
    const Plant plant =
        assemble({.segments = {segment_cells("S-0"), segment_cells("S-1")},
                  .inspections = {inspection_cells("S-1", "2020-01-01"),
                                  inspection_cells("S-1", "2024-01-01", {{"coverage", "60 %"}}),
                                  inspection_cells("S-1", "2022-01-01", {{"coverage", "30 %"}}),
                                  inspection_cells("S-1", "2021-01-01", {{"coverage", "10 %"}}),
                                  inspection_cells("S-0", "2021-01-01"),
                                  inspection_cells("S-1", "2023-01-01")}},
                 published_rules());
    const auto effectiveness = inspection_effectiveness(plant, published_rules());
    const auto counted = [&](std::uint32_t segment, Date until) {
        return count_inspections(plant, segment, until, effectiveness);
    };
    CHECK(counted(1, make_date(2025, 1, 1)) == InspectionCounts{2, 1, 1, 1});
    CHECK(counted(1, make_date(2023, 1, 1)) == InspectionCounts{2, 0, 1, 1});
    CHECK(counted(1, make_date(2022, 12, 31)) == InspectionCounts{1, 0, 1, 1});
    CHECK(counted(1, make_date(2019, 1, 1)) == InspectionCounts{0, 0, 0, 0});
    CHECK(counted(0, make_date(2025, 1, 1)) == InspectionCounts{1, 0, 0, 0});
}

TEST_CASE("what the conditional table guarantees: both likelihood ratios rise from D to A") {
    // Po depends on the ratios state 1 : 2 and 2 : 3 alone.  When both are larger for the better
    // category, whatever the prior and whatever else was done, the better inspection puts no less
    // on state 1 and no more on state 3.  The orders asserted below follow from these lines.
    const auto ratios = [](std::uint8_t category) {
        return std::array{
            conditional().at(category, 0).value / conditional().at(category, 1).value,
            conditional().at(category, 1).value / conditional().at(category, 2).value};
    };
    for (std::uint8_t better = 0; better < telling_categories; ++better) {
        CAPTURE(better);
        const auto worse = static_cast<std::uint8_t>(better + 1);
        CHECK(ratios(better)[0] > ratios(worse)[0]);
        CHECK(ratios(better)[1] > ratios(worse)[1]);
    }
    CHECK(ratios(telling_categories) == std::array{1.0, 1.0});  // E
}

TEST_CASE("a better inspection, or one more of any kind, never makes the states worse") {
    std::mt19937_64 dice{581};
    for (int draw = 0; draw < 4000; ++draw) {
        const InspectionCounts others = draw_counts(dice, 6);
        const auto with_one = [&](std::size_t category) {
            InspectionCounts counts = others;
            counts[category] += 1.0;
            return counts;
        };
        for (const States& prior : priors) {
            CAPTURE(others[0]);
            CAPTURE(others[1]);
            CAPTURE(others[2]);
            CAPTURE(others[3]);
            const States none = updated(prior, others);
            require_probabilities(none);
            States worse = none;
            for (std::size_t category = telling_categories; category-- > 0;) {
                CAPTURE(category);
                const States better = updated(prior, with_one(category));
                REQUIRE(no_worse(better, worse));
                REQUIRE(no_worse(better, none));
                worse = better;
            }
        }
    }
}

TEST_CASE("one inspection after the other, in any order, gives what all at once by number give") {
    std::vector<std::size_t> order{0, 1, 1, 2, 3};
    const States together = updated(low, {1, 2, 1, 1});
    do {
        States states = low;
        for (const std::size_t category : order) {
            InspectionCounts one{};
            one[category] = 1.0;
            states = updated(states, one);
        }
        for (std::size_t k = 0; k < damage_states; ++k) {
            CHECK(states[k] == doctest::Approx(together[k]).epsilon(1e-13));
        }
    } while (std::ranges::next_permutation(order).found);
}

TEST_CASE(
    "two of a category against one of the next: the table gives no order, so none is claimed") {
    // Likelihood ratios: two B 12.25 and 4, one A 10 and 9: more on state 1 against 2, less on 2
    // against 3.  Which is better depends on the prior.
    const States two_b = updated({0.49, 0.49, 0.02}, {0, 2, 0, 0});
    const States one_a = updated({0.49, 0.49, 0.02}, {1, 0, 0, 0});
    CHECK(two_b[0] > one_a[0]);
    CHECK(two_b[2] > one_a[2]);
    CHECK_FALSE(no_worse(two_b, one_a));
    CHECK_FALSE(no_worse(one_a, two_b));
}

TEST_CASE("hundreds of inspections: no NaN, and logarithms agree with the product") {
    // The same posterior by long double logarithms, apart from both paths of the program.
    const auto by_logarithms = [](const States& prior, const InspectionCounts& counts) {
        std::array<long double, damage_states> logs{};
        for (std::size_t k = 0; k < damage_states; ++k) {
            logs[k] = std::log(static_cast<long double>(prior[k]));
            for (std::size_t c = 0; c < telling_categories; ++c) {
                const long double each =
                    conditional()
                        .at(static_cast<std::uint8_t>(c), static_cast<std::uint8_t>(k))
                        .value;
                logs[k] += static_cast<long double>(counts[c]) * std::log(each);
            }
        }
        const long double most = std::max({logs[0], logs[1], logs[2]});
        long double sum = 0.0L;
        for (const long double each : logs) sum += std::exp(each - most);
        States states{};
        for (std::size_t k = 0; k < damage_states; ++k) {
            states[k] = static_cast<double>(std::exp(logs[k] - most) / sum);
        }
        return states;
    };
    // 0.4^500 = 1e-199 is the last product, 0.4^503 the first in logarithms; then far beyond.
    for (const double number :
         {1.0, 40.0, 300.0, 495.0, 500.0, 502.0, 503.0, 505.0, 800.0, 5000.0}) {
        for (std::size_t category = 0; category < telling_categories; ++category) {
            for (const States& prior : priors) {
                CAPTURE(number);
                CAPTURE(category);
                InspectionCounts counts{};
                counts[category] = number;
                const States got = updated(prior, counts);
                require_probabilities(got);
                const States expected = by_logarithms(prior, counts);
                for (std::size_t k = 0; k < damage_states; ++k) {
                    CHECK(std::abs(got[k] - expected[k]) <= 1e-12);
                }
            }
        }
    }
    const InspectionCounts mixed{300, 300, 300, 300};
    require_probabilities(updated(low, mixed));
    CHECK(updated(low, mixed)[0] == 1.0);
}

TEST_CASE("a state that the prior excludes stays excluded, also in logarithms") {
    for (const double number : {1.0, 900.0}) {
        const States got = updated({0.0, 0.6, 0.4}, {0, 0, 0, number});
        require_probabilities(got);
        CHECK(got[0] == 0.0);
    }
}

TEST_CASE("looks of one day by one technique are one inspection, the most effective of them") {
    const auto counted = [](const std::vector<Cells>& inspections) {
        const Plant plant = assemble(
            {.segments = {segment_cells("S-1")}, .inspections = inspections}, published_rules());
        const auto effectiveness = inspection_effectiveness(plant, published_rules());
        const InspectionCounts counts =
            count_inspections(plant, 0, plant.ranked_at.date, effectiveness);
        std::size_t credited = 0;
        for (const std::uint32_t row : plant.inspection_order) {
            credited += counts_for_its_day(plant, 0, row, effectiveness) ? 1U : 0U;
        }
        CHECK(static_cast<double>(credited) == counts[0] + counts[1] + counts[2] + counts[3]);
        return counts;
    };
    // strip_and_measure: 100 % is A, 60 % is B.
    const Cells whole = inspection_cells("S-1", "2020-05-01", {{"coverage", "100 %"}});
    const Cells part = inspection_cells("S-1", "2020-05-01", {{"coverage", "60 %"}});
    const Cells report =
        inspection_cells("S-1", "2020-05-01", {{"coverage", "100 %"}, {"report", "IR-2"}});
    const Cells later = inspection_cells("S-1", "2020-05-02", {{"coverage", "100 %"}});
    CHECK(counted({whole}) == InspectionCounts{1, 0, 0, 0});
    CHECK(counted({part, whole}) == InspectionCounts{1, 0, 0, 0});
    CHECK(counted({part, report, whole}) == InspectionCounts{1, 0, 0, 0});
    CHECK(counted({whole, later}) == InspectionCounts{2, 0, 0, 0});
    Cells other = whole;
    other["technique"] = "strip_and_look";  // B where all is seen
    CHECK(counted({whole, other}) == InspectionCounts{1, 1, 0, 0});
}

}  // namespace
}  // namespace lagline
