#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "planning/future_loss.h"
#include "site_rules.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// Worked out apart from the engine: eq. 17 and 20 with the published constants of API RP 581, 3rd
// edition, Part 2, section 16, at a management factor of 1.
double probability_in_state(double fraction, double ratio, double factor) {
    const double lost = factor * fraction;
    const double left = 1.0 - lost;
    const double beta = (left - ratio) /
                        std::sqrt(0.04 * lost * lost + 0.04 * left * left + 0.0025 * ratio * ratio);
    return 3.06e-5 * 0.5 * std::erfc(beta / std::numbers::sqrt2) / 1.56e-4;
}

double mean_over(const std::array<double, 3>& states, double fraction, double ratio) {
    return states[0] * probability_in_state(fraction, ratio, 1.0) +
           states[1] * probability_in_state(fraction, ratio, 2.0) +
           states[2] * probability_in_state(fraction, ratio, 4.0);
}

// What a straight line over one year is worth, by Simpson's rule in 32 strips.
double discounted_line(double before, double after, double from_years) {
    constexpr int strips = 32;
    double sum = 0.0;
    for (int i = 0; i <= 2 * strips; ++i) {
        const double t = i / (2.0 * strips);
        const double weight = i == 0 || i == 2 * strips ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
        sum += weight * (before + t * (after - before)) * std::pow(1.07, -(from_years + t));
    }
    return sum / (6.0 * strips);
}

/// One bare segment of NPS 6 pipe at 70 degC, in service for 20 years on 2025-01-01, with what the
/// engine says of it.
struct Bare {
    Plant plant;
    Ranking ranking;
    Futures ahead;
    FutureLoss loss;
    double rate = 0.0;   ///< mm/y; wall loss only
    double ratio = 0.0;  ///< strength ratio; wall loss only

    explicit Bare(const Cells& changes = {})
        : plant(
              assemble({.segments = {segment_cells("S", with_bare(changes))}}, published_rules())),
          ranking(rank(plant, published_rules())),
          ahead(futures(plant, published_rules(), ranking)),
          loss(plant, published_rules(), ahead) {
        if (ranking.mechanism_rows.wall_loss == 0) return;
        rate = ranking.wall_loss.corrosion_rate_mm_per_year[0];
        ratio = ranking.likelihood.strength_ratio[0];
    }

    static Cells with_bare(Cells changes) {
        changes.emplace("coating_quality", "none");
        changes.emplace("coating_date", "");
        return changes;
    }
    std::vector<double> curve(const Treatment& treatment, double at_years) {
        const std::array dated{DatedTreatment{treatment, at_years}};
        return loss.probabilities(0, dated);
    }
};

constexpr std::array<double, 3> low_confidence{0.5, 0.3, 0.2};  // API RP 581, Part 2, Table 4.5
constexpr double wall_mm = 7.11;

TEST_CASE("a segment that does not corrode loses the same every year, discounted") {
    // Above the table's range the rate is 0; nothing changes but the value of money.
    Bare hot{{{"operating_temperature", "300 degC"}, {"leak_cost", "1000000 USD"}}};
    REQUIRE(hot.rate == 0.0);
    // Integral of 1.07^-t over 20 years.
    const double discounted_years = (1.0 - std::pow(1.07, -20.0)) / std::log(1.07);
    const StateLosses losses = hot.loss.left(0);
    const double each = 1e6 * probability_in_state(0.0, hot.ratio, 1.0) * discounted_years;
    for (const double loss : losses) CHECK(loss == doctest::Approx(each).epsilon(1e-12));
    CHECK(hot.loss.expected(0, losses) == doctest::Approx(each).epsilon(1e-12));
}

TEST_CASE("losses of a segment left alone: eq. 87 worked out apart, state by state") {
    Bare bare{{{"leak_cost", "250000 USD"}}};
    const StateLosses losses = bare.loss.left(0);
    const std::array factors{1.0, 2.0, 4.0};
    for (std::size_t k = 0; k < 3; ++k) {
        CAPTURE(k);
        double sum = 0.0;
        for (int year = 0; year < 20; ++year) {
            const double before =
                probability_in_state(bare.rate * (20.0 + year) / wall_mm, bare.ratio, factors[k]);
            const double after =
                probability_in_state(bare.rate * (21.0 + year) / wall_mm, bare.ratio, factors[k]);
            sum += discounted_line(before, after, year);
        }
        CHECK(losses[k] == doctest::Approx(250000.0 * sum).epsilon(1e-12));
    }
    CHECK(losses[0] < losses[1]);
    CHECK(losses[1] < losses[2]);
}

TEST_CASE("the weights of a straight line: Simpson's rule, series and closed form, no discount") {
    for (const double rate : {0.07, 1e-3, 5e-4, 0.0}) {
        CAPTURE(rate);
        const Horizon horizon{20, rate};
        const EndWeights weight = horizon.weights(3.0, 3.5);
        double from = 0.0;
        double to = 0.0;
        constexpr int steps = 4096;
        for (int i = 0; i < steps; ++i) {
            const double t = (i + 0.5) / steps;
            const double worth = std::pow(1.0 + rate, -(3.0 + 0.5 * t)) * 0.5 / steps;
            from += (1.0 - t) * worth;
            to += t * worth;
        }
        CHECK(weight.from == doctest::Approx(from).epsilon(1e-7));
        CHECK(weight.to == doctest::Approx(to).epsilon(1e-7));
    }
}

TEST_CASE("a new coat stops the loss for its life, and what is lost stays lost") {
    Bare bare;
    Treatment coat;
    coat.coat = one_life(5.0);
    const auto curve = bare.curve(coat, 2.5);
    for (int year = 0; year <= 20; ++year) {
        CAPTURE(year);
        const double exposed = year < 2.5 ? 20.0 + year : 22.5 + std::max(0.0, year - 7.5);
        const double expected =
            mean_over(low_confidence, bare.rate * exposed / wall_mm, bare.ratio);
        CHECK(curve[static_cast<std::size_t>(year)] == doctest::Approx(expected).epsilon(1e-11));
    }
}

TEST_CASE("a new coat with a Weibull life: numbers by quadrature") {
    Bare bare;
    Treatment coat;
    coat.coat = Weibull{12.0, 3.0};
    const auto curve = bare.curve(coat, 3.0);
    // Integral of 1 - exp(-(u/12)^3) over the time since, by the midpoint rule.
    constexpr int steps = 20'000;
    const double since = 9.0;
    double unprotected = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double u = (i + 0.5) * since / steps;
        unprotected += (1.0 - std::exp(-std::pow(u / 12.0, 3.0))) * since / steps;
    }
    const double expected =
        mean_over(low_confidence, bare.rate * (23.0 + unprotected) / wall_mm, bare.ratio);
    CHECK(curve[12] == doctest::Approx(expected).epsilon(1e-7));
}

TEST_CASE("renewed insulation slows the loss by the factors of the rules while its seals last") {
    // Below average 1.25, above average 0.75; mineral wool 1.25, cellular glass 0.75 (recalled, API
    // RP 581, Part 2, section 16); seals last 10 years (rule).
    Bare bare{{{"insulation_condition", "below_average"}}};
    const Treatments treatments{published_rules(), bare.ahead};
    const std::uint8_t glass = code_of(published_rules(), "insulation_type", "cellular_glass");
    const Treatment renewed = treatments.renew_insulation(0, glass);
    REQUIRE(renewed.water);
    const double factor = 0.75 * 0.75 / (1.25 * 1.25);
    CHECK(renewed.water->rate_factor == doctest::Approx(factor).epsilon(1e-14));
    const auto curve = bare.curve(renewed, 1.5);
    for (int year = 2; year <= 20; ++year) {
        CAPTURE(year);
        const double slow = std::min(year - 1.5, 10.0);
        const double fast = std::max(year - 11.5, 0.0);
        const double exposed = 21.5 + factor * slow + fast;
        const double expected =
            mean_over(low_confidence, bare.rate * exposed / wall_mm, bare.ratio);
        CHECK(curve[static_cast<std::size_t>(year)] == doctest::Approx(expected).epsilon(1e-11));
    }
}

TEST_CASE("without insulation the steel corrodes as in the open") {
    // Driver moderate: 80 um a year (rule open_air_rate, upper limit of C4 of ISO 9223).
    Bare bare;
    const Treatments treatments{published_rules(), bare.ahead};
    const auto curve = bare.curve(treatments.remove_insulation(0), 4.0);
    const double lost_mm = bare.rate * 24.0 + 0.080 * 6.0;
    CHECK(curve[10] ==
          doctest::Approx(mean_over(low_confidence, lost_mm / wall_mm, bare.ratio)).epsilon(1e-11));
}

TEST_CASE("a new run starts without loss, in no known state, with the strength of its wall") {
    Bare bare{{{"data_confidence", "medium"}}};
    REQUIRE(bare.ranking.likelihood.state_probability[0][0] == doctest::Approx(0.7));
    const Treatment run = Treatments::replace_run(10.0, one_life(3.0));
    const auto curve = bare.curve(run, 2.0);
    const double ratio = bare.ratio * wall_mm / 10.0;
    CHECK(curve[4] == doctest::Approx(probability_in_state(0.0, ratio, 1.0)).epsilon(1e-11));
    const double fraction = bare.rate * (12.0 - 5.0) / 10.0;
    CHECK(curve[12] == doctest::Approx(mean_over({0.7, 0.2, 0.1}, fraction, ratio)).epsilon(1e-11));
    // From the replacement on the losses do not ask what state the old run was in.
    const std::array dated{DatedTreatment{run, 2.0}};
    const StateLosses with = bare.loss.treated(0, dated);
    Treatment later = run;
    const std::array at_start{DatedTreatment{later, 0.0}};
    const StateLosses from_start = bare.loss.treated(0, at_start);
    CHECK(from_start[0] == from_start[2]);
    CHECK(with[0] < with[2]);
}

TEST_CASE("a new run takes the prior, not what inspections of the old one left of it") {
    const Plant plant = assemble(
        {.segments = {segment_cells("S", Bare::with_bare({}))},
         .inspections = {inspection_cells("S", "2020-01-01", {{"least_thickness", "6 mm"}})}},
        published_rules());
    const Ranking ranking = rank(plant, published_rules());
    REQUIRE(ranking.likelihood.state_probability[0][0] > 0.9);
    const Futures ahead = futures(plant, published_rules(), ranking);
    FutureLoss loss{plant, published_rules(), ahead};
    const std::array dated{DatedTreatment{Treatments::replace_run(6.0, one_life(0.0)), 0.0}};
    const double rate = ranking.wall_loss.corrosion_rate_mm_per_year[0];
    const double ratio = ranking.likelihood.strength_ratio[0];
    CHECK(loss.probabilities(0, dated)[8] ==
          doctest::Approx(mean_over(low_confidence, rate * 8.0 / 6.0, ratio)).epsilon(1e-11));
}

TEST_CASE("treatments follow one another, each from what the one before left") {
    Bare bare;
    Treatment first;
    first.coat = one_life(4.0);
    Treatment second;
    second.coat = one_life(100.0);
    const std::array dated{DatedTreatment{first, 1.0}, DatedTreatment{second, 8.0}};
    const auto curve = bare.loss.probabilities(0, dated);
    // Bare to 21, protected to 25, bare for 3 years, protected for good.
    const double expected = mean_over(low_confidence, bare.rate * 24.0 / wall_mm, bare.ratio);
    CHECK(curve[8] == doctest::Approx(expected).epsilon(1e-11));
    CHECK(curve[20] == doctest::Approx(expected).epsilon(1e-11));
}

/// One austenitic segment, bare, 20 years without inspection, severity index 10.
struct Cracking : Bare {
    explicit Cracking(Cells changes = {}) : Bare(austenitic(std::move(changes))) {}
    static Cells austenitic(Cells changes) {
        changes.emplace("material", "austenitic_stainless");
        changes.emplace("driver", "mild");
        return changes;
    }
};

TEST_CASE("cracking: an inspection that finds none buys the published credit and a new clock") {
    // API RP 581, Part 2: Table 18.2 mild medium, so index 10; Table 6.3 base 10 without and 1
    // after one B; eq. 41 with exponent 1.1.
    Cracking crack;
    REQUIRE(crack.ranking.mechanism_rows.cracking == 1);
    const double frequency = 3.06e-5;
    CHECK(crack.loss.probabilities(0, {})[3] ==
          doctest::Approx(frequency * 10.0 * std::pow(23.0, 1.1)).epsilon(1e-11));
    Treatment inspection;
    inspection.inspected = code_of(published_rules(), "effectiveness", "B");
    const auto curve = crack.curve(inspection, 2.0);
    CHECK(curve[1] == doctest::Approx(frequency * 10.0 * std::pow(21.0, 1.1)).epsilon(1e-11));
    CHECK(curve[2] == doctest::Approx(frequency).epsilon(1e-11));
    CHECK(curve[12] == doctest::Approx(frequency * std::pow(10.0, 1.1)).epsilon(1e-11));

    const std::array<Reaction, 1> leave{};
    const InspectionTree tree = crack.loss.inspect(0, *inspection.inspected, 2.0, leave);
    const std::array dated{DatedTreatment{inspection, 2.0}};
    CHECK_FALSE(tree.by_states);
    CHECK(tree.value ==
          doctest::Approx(crack.loss.left(0)[0] - crack.loss.treated(0, dated)[0]).epsilon(1e-12));
    CHECK(tree.value > 0.0);
}

TEST_CASE("cracking: an ineffective inspection and cracks that are known buy nothing") {
    Cracking crack;
    const std::array<Reaction, 1> leave{};
    const std::uint8_t none = code_of(published_rules(), "effectiveness", "E");
    CHECK(crack.loss.inspect(0, none, 2.0, leave).value == 0.0);

    const Plant cracked =
        assemble({.segments = {segment_cells("S", Bare::with_bare(Cracking::austenitic({})))},
                  .inspections = {inspection_cells("S", "2020-01-01", {{"cracks_found", "yes"}})}},
                 published_rules());
    const Futures ahead = futures(cracked, published_rules(), rank(cracked, published_rules()));
    REQUIRE(ahead.cracks_found[0] == 1);
    FutureLoss loss{cracked, published_rules(), ahead};
    const std::uint8_t best = code_of(published_rules(), "effectiveness", "A");
    CHECK(loss.inspect(0, best, 2.0, leave).value == 0.0);
}

TEST_CASE("cracking: new insulation lowers the susceptibility by the steps of the rules") {
    // Condition below average +1 on medium: high, index 50; renewed: above average -1, low,
    // index 1.
    Cracking crack{{{"insulation_condition", "below_average"}}};
    const Treatments treatments{published_rules(), crack.ahead};
    const std::uint8_t wool = code_of(published_rules(), "insulation_type", "mineral_wool");
    const Treatment renewed = treatments.renew_insulation(0, wool);
    const double frequency = 3.06e-5;
    const auto curve = crack.curve(renewed, 2.0);
    CHECK(curve[1] == doctest::Approx(frequency * 50.0 * std::pow(21.0, 1.1)).epsilon(1e-11));
    CHECK(curve[4] == doctest::Approx(frequency * std::pow(24.0, 1.1)).epsilon(1e-11));
    // Once the seals are gone all is as before.
    CHECK(curve[13] == doctest::Approx(frequency * 50.0 * std::pow(33.0, 1.1)).epsilon(1e-11));
    // In the open one class less than medium, whatever insulation there was.
    const auto open = crack.curve(treatments.remove_insulation(0), 2.0);
    CHECK(open[15] == doctest::Approx(frequency * std::pow(35.0, 1.1)).epsilon(1e-11));
}

TEST_CASE("cracking: the step of the new insulation type counts") {
    const RuleSet rules = rules_with(
        "  - {table: scc_insulation_step, entry: cellular_glass, to: -1, reason: for this test, "
        "basis: site}\n");
    const Cracking crack{{{"insulation_condition", "below_average"}}};
    const Treatments treatments{rules, crack.ahead};
    const auto step = [&](std::string_view type) {
        return treatments.renew_insulation(0, code_of(rules, "insulation_type", type))
            .water->susceptibility_steps;
    };
    CHECK(step("mineral_wool") == -2.0);  // from +1 to -1 by the condition
    CHECK(step("cellular_glass") == -3.0);
}

TEST_CASE("cracking: a new run has no cracks and no inspections") {
    Cracking crack;
    const auto curve = crack.curve(Treatments::replace_run(7.11, one_life(0.0)), 5.0);
    CHECK(curve[5] == doctest::Approx(3.06e-5 * 10.0).epsilon(1e-11));
    CHECK(curve[15] == doctest::Approx(3.06e-5 * 10.0 * std::pow(10.0, 1.1)).epsilon(1e-11));
}

TEST_CASE("two mechanisms: a treatment works on the one that stands, the other goes on") {
    const Plant plant =
        assemble({.segments = {segment_cells("S", Bare::with_bare({}))}}, published_rules());
    Futures ahead = futures(plant, published_rules(), rank(plant, published_rules()));
    ahead.excess_damage_factor.setConstant(static_cast<Eigen::Index>(ahead.dates.size()), 1, 50.0);
    FutureLoss loss{plant, published_rules(), ahead};
    Treatment coat;
    coat.coat = one_life(100.0);
    const std::array dated{DatedTreatment{coat, 0.0}};
    Futures alone = ahead;
    alone.excess_damage_factor.resize(0, 0);
    FutureLoss loss_alone{plant, published_rules(), alone};
    const auto both = loss.probabilities(0, dated);
    const auto one = loss_alone.probabilities(0, dated);
    CHECK(both[7] - one[7] == doctest::Approx(3.06e-5 * 50.0).epsilon(1e-9));
}

}  // namespace
}  // namespace lagline
