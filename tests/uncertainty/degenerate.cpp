// Distributions that leave only the value that is taken anyway: every sample is then the ranking.
#include <doctest/doctest.h>

#include <bit>
#include <limits>

#include "ranking/forecast.h"
#include "ranking/forecast_range.h"
#include "ranking/sample_risks.h"
#include "ranking/uncertainty.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

void make_point(Distribution& made) { made.kind = DistributionKind::point; }

void make_certain(Distribution& made, const RuleSet& rules) {
    const FieldInfo& info = segment_fields()[made.field];
    const auto taken = rules.defaults.find(info.key);
    switch (made.kind) {
        case DistributionKind::point:
            return;
        case DistributionKind::period:
            return make_point(made);
        case DistributionKind::between:
            made.to = made.from;
            return;
        case DistributionKind::normal:
            for (RuleEntry& entry : made.entries) entry.printed = entry.value = 0.0;
            return;
        case DistributionKind::shares: {
            const std::string word = taken == rules.defaults.end() ? "unknown" : taken->second.text;
            made.entries.resize(1);
            made.entries[0].code = rules.vocabulary(info.words).code(word).value();
            made.entries[0].value = 1.0;
            made.lists.clear();
            made.info.by.clear();
            made.bands = {{std::numeric_limits<double>::infinity(), {0, 1}}};
            return;
        }
        case DistributionKind::points: {
            if (taken == rules.defaults.end())
                return make_point(made);  // an empty cell stays empty
            const NumberReading number = read_quantity(taken->second.text);
            made.info.unit = number.unit.empty() ? "-" : std::string{number.unit};
            made.entries.resize(2);
            for (RuleEntry& entry : made.entries) entry.printed = number.value;
            made.probabilities = {0.0, 1.0};
            made.lists = {{0, 2}};
            made.info.by.clear();
            return;
        }
    }
}

RuleSet certain_rules(std::string_view name) {
    RuleSet rules = rules_from(rules_root(), name);
    for (auto& [key, made] : rules.distributions) make_certain(made, rules);
    // One default for all rows: shares know nothing of the system of a coating.
    rules.lookups.erase("coating_quality");
    return rules;
}

void check_every_sample(std::string_view name) {
    const RuleSet rules = certain_rules(name);
    const Plant plant = sample_plant(rules);
    const Ranking ranking = rank(plant, rules);
    const InputDraws draws(plant, rules, fields_by_mechanism(rules));
    constexpr std::size_t samples = 8;
    const SobolPoints points(draws.dimensions(), samples);
    SampleRisks runner(plant, rules, draws, points);
    std::size_t drawn = 0;
    for (const std::uint32_t row : ranking.order) {
        std::vector<DrawnCell> cells;
        const std::uint32_t segment = ranking.segment_rows[row];
        const bool wall = row < ranking.mechanism_rows.wall_loss;
        draws.add_cells(segment, wall ? reads_wall_loss : reads_cracking, cells);
        drawn += cells.size();
        const SampledSegment sampled{segment, cells};
        runner.run({&sampled, 1});
        const auto expected = std::bit_cast<std::uint64_t>(ranking.risk.risk_per_year[row]);
        for (const double risk : runner.outcome(0).risk_per_year) {
            REQUIRE_MESSAGE(std::bit_cast<std::uint64_t>(risk) == expected,
                            plant.segments.texts(SegmentField::segment)[segment]);
        }
    }
    CHECK(drawn > 500);
}

TEST_CASE("with certain distributions every sample has the risk of the ranking, bit for bit") {
    SUBCASE("published") { check_every_sample("published"); }
    SUBCASE("extended") { check_every_sample("extended"); }
}

TEST_CASE("with certain distributions the rank is certain") {
    const RuleSet rules = certain_rules("extended");
    const Plant plant = sample_plant(rules);
    const Uncertainty sure = rank_uncertainty(plant, rules, {.samples = 16, .top = 25});
    for (std::size_t i = 0; i < sure.segments.size(); ++i) {
        const SegmentUncertainty& each = sure.segments[i];
        REQUIRE(each.rank_low == static_cast<double>(i + 1));
        REQUIRE(each.rank_high == static_cast<double>(i + 1));
        REQUIRE(each.top_probability == (i < 25 ? 1.0 : 0.0));
        REQUIRE(each.top_error == 0.0);
    }
    CHECK(sure.find_first.empty());
}

TEST_CASE("with certain distributions the range of the years ahead is the forecast, bit for bit") {
    const RuleSet rules = certain_rules("extended");
    const Plant plant = sample_plant(rules);
    const std::vector<std::uint32_t> segments{3, 200, 17, 599};
    const Forecast ahead = forecast(plant, rules, segments, 3);
    const ForecastRanges ranges = forecast_ranges(plant, rules, segments, ahead.dates, 8);
    REQUIRE(ahead.curves.size() == segments.size());
    for (std::size_t i = 0; i < segments.size(); ++i) {
        REQUIRE(ranges.segments[i].size() == ahead.dates.size());
        for (std::size_t year = 0; year < ahead.dates.size(); ++year) {
            const ProbabilityRange& range = ranges.segments[i][year];
            CHECK(range.low_per_year == ahead.curves[i].points[year].probability_per_year);
            CHECK(range.middle_per_year == range.low_per_year);
            CHECK(range.high_per_year == range.low_per_year);
        }
    }
}

}  // namespace
}  // namespace lagline
