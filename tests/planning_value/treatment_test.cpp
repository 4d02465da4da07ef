#include "planning/treatment.h"

#include <doctest/doctest.h>

#include <array>
#include <vector>

#include "planning/future_loss.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

/// The sample plant by the extended rules, every mechanism and history in it.
struct Sample {
    Plant plant = sample_plant(extended_rules());
    Ranking ranking = rank(plant, extended_rules());
    Futures ahead = futures(plant, extended_rules(), ranking);
    FutureLoss loss{plant, extended_rules(), ahead};

    // From a strength ratio between 0.5 and 0.6 on the published index (eq. 17) is not monotone: a
    // wall that is far too thin for its pressure looks a little better as it goes on corroding.
    [[nodiscard]] bool is_monotone(std::size_t row) const {
        return ahead.strength_ratio[static_cast<Eigen::Index>(row)] <= 0.5;
    }
    StateLosses treated(std::size_t row, const Treatment& treatment, double at_years) {
        const std::array dated{DatedTreatment{treatment, at_years}};
        return loss.treated(row, dated);
    }
};

Treatment coated(const Weibull& life) {
    Treatment treatment;
    treatment.coat = life;
    return treatment;
}

// a <= b in every state, but for rounding.
void require_no_worse(const StateLosses& a, const StateLosses& b) {
    for (std::size_t k = 0; k < damage_states; ++k) {
        CAPTURE(k);
        REQUIRE(a[k] <= b[k] * (1.0 + 1e-9));
    }
}

TEST_CASE("a coat that outlives the horizon never raises a loss; the better coat is no worse") {
    Sample sample;
    bool better_somewhere = false;
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        CAPTURE(row);
        if (!sample.is_monotone(row)) continue;
        const StateLosses left = sample.loss.left(row);
        const StateLosses long_life = sample.treated(row, coated({200.0, 3.0}), 2.7);
        require_no_worse(long_life, left);
        StateLosses before = long_life;
        for (const double scale : {60.0, 20.0, 8.0, 2.0, 0.0}) {
            CAPTURE(scale);
            const StateLosses shorter = sample.treated(row, coated({scale, 3.0}), 2.7);
            require_no_worse(before, shorter);
            before = shorter;
        }
        better_somewhere = better_somewhere || long_life[0] < 0.9 * left[0];
    }
    CHECK(better_somewhere);
}

TEST_CASE("the coat that is there, applied anew, never raises a loss") {
    Sample sample;
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        CAPTURE(row);
        if (!sample.is_monotone(row)) continue;
        const auto of = static_cast<Eigen::Index>(sample.ahead.ranking_rows[row]);
        const Weibull same{sample.ranking.coating.scale_years[of],
                           sample.ranking.coating.shape[of]};
        if (same.shape < 1.0) continue;  // an ageing coat is what this is about
        require_no_worse(sample.treated(row, coated(same), 4.0), sample.loss.left(row));
    }
}

TEST_CASE("coating earlier is no worse than later, for a coat that outlives the horizon") {
    Sample sample;
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        CAPTURE(row);
        if (!sample.is_monotone(row)) continue;
        StateLosses before{};
        for (const double at : {0.0, 1.0, 2.25, 9.5, 20.0}) {
            CAPTURE(at);
            const StateLosses now = sample.treated(row, coated(one_life(100.0)), at);
            require_no_worse(before, now);
            before = now;
        }
        require_no_worse(before, sample.loss.left(row));
    }
}

TEST_CASE("nearly all segments of the sample plant are in the monotone range") {
    const Sample sample;
    std::size_t left_out = 0;
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        if (!sample.is_monotone(row)) ++left_out;
    }
    CHECK(sample.ahead.rows() > 300);
    CHECK(left_out < 10);
}

TEST_CASE("no treatment, an empty one and one at the horizon are all the same") {
    Sample sample;
    const double last = sample.ahead.horizon.years;
    for (std::size_t row = 0; row < sample.ahead.rows(); row += 7) {
        CAPTURE(row);
        const StateLosses left = sample.loss.left(row);
        REQUIRE(sample.treated(row, Treatments::replace_run(20.0, one_life(100.0)), last) == left);
        const StateLosses empty = sample.treated(row, {}, 3.0);
        for (std::size_t k = 0; k < damage_states; ++k) {
            REQUIRE(empty[k] == doctest::Approx(left[k]).epsilon(1e-12));
        }
    }
}

TEST_CASE("keeping water out no worse than before never raises a loss") {
    Sample sample;
    const Treatments treatments{extended_rules(), sample.ahead};
    const auto types = sample.plant.segments.codes(SegmentField::insulation_type);
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        CAPTURE(row);
        if (!sample.is_monotone(row)) continue;
        // Of the same type, the renewed insulation is at least in the condition of the present one.
        const std::uint8_t type = types[sample.ahead.segment_rows[row]];
        const Treatment renewed = treatments.renew_insulation(row, type);
        REQUIRE(renewed.water);
        CHECK(renewed.water->rate_factor <= 1.0);
        CHECK(renewed.water->susceptibility_steps <= 0.0);
        require_no_worse(sample.treated(row, renewed, 1.0), sample.loss.left(row));
    }
}

TEST_CASE("the best inspection of the sample plant: worth something, never less than nothing") {
    Sample sample;
    const std::uint8_t effectiveness = code_of(extended_rules(), "effectiveness", "B");
    const std::array coat{DatedTreatment{coated({20.0, 3.0}), 2.0}};
    const std::array run{DatedTreatment{Treatments::replace_run(8.0, Weibull{20.0, 3.0}), 2.0}};
    std::size_t worth = 0;
    for (std::size_t row = 0; row < sample.ahead.rows(); ++row) {
        CAPTURE(row);
        const double cost = 20'000.0;
        const std::array reactions{Reaction{}, Reaction{cost, coat}, Reaction{4.0 * cost, run}};
        const InspectionTree tree = sample.loss.inspect(row, effectiveness, 2.0, reactions);
        REQUIRE(tree.value >= 0.0);
        REQUIRE(tree.by_states == (sample.ahead.cracks[static_cast<Eigen::Index>(row)] == 0));
        if (tree.by_states) {
            REQUIRE(tree.value <= tree.value_of_knowing * (1.0 + 1e-9));
            if (!tree.changes_reaction()) REQUIRE(tree.value == 0.0);
            REQUIRE(tree.states == sample.ahead.states(row));
            if (tree.value > 0.0) ++worth;
        }
    }
    CHECK(worth > 10);
}

TEST_CASE("a tree of segments takes reactions of 1 to 8") {
    Sample sample;
    CHECK_THROWS_AS((void)sample.loss.inspect(0, 0, 1.0, {}), std::invalid_argument);
    const std::vector<Reaction> many(most_reactions + 1);
    CHECK_THROWS_AS((void)sample.loss.inspect(0, 0, 1.0, many), std::invalid_argument);
}

}  // namespace
}  // namespace lagline
