#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <map>

#include "ranking/forecast_range.h"
#include "ranking/sample_risks.h"
#include "ranking/uncertainty.h"
#include "report/uncertainty_csv.h"
#include "report/uncertainty_json.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr UncertaintyOptions options{.samples = 64, .top = 25};

// A dozen segments that differ in wall; every third lacks some records.
SmallPlant dozen() {
    SmallPlant plant;
    for (int i = 0; i < 12; ++i) {
        const std::string name = "S-" + std::to_string(100 + i);
        Cells changes{{"nominal_wall", std::to_string(6 + i) + " mm"}};
        if (i % 3 == 0) {
            changes["insulation_condition"] = "";
            changes["consequence_category"] = "";
            changes["pooling"] = "";
        }
        plant.segments.push_back(segment_cells(name, changes));
    }
    return plant;
}

std::map<std::string, const SegmentUncertainty*> by_name(const Plant& plant,
                                                         const Uncertainty& sure) {
    std::map<std::string, const SegmentUncertainty*> all;
    for (const SegmentUncertainty& each : sure.segments) {
        all[std::string{plant.segments.texts(SegmentField::segment)[each.segment_row]}] = &each;
    }
    return all;
}

TEST_CASE("threads and blocks change no byte") {
    const RuleSet rules = rules_from(rules_root(), "extended");
    const Plant plant = sample_plant(rules);
    const Uncertainty first = rank_uncertainty(plant, rules, options, {1024, 1, nullptr});
    const std::string csv = uncertainty_csv(plant, first, 0);
    const std::string json = uncertainty_json(plant, rules, first, 0);
    CHECK(csv.size() > 10000);
    for (const WorkPlan& plan :
         {WorkPlan{1, 2, nullptr}, WorkPlan{7, 1, nullptr}, WorkPlan{1024, 2, nullptr}}) {
        const Uncertainty again = rank_uncertainty(plant, rules, options, plan);
        CHECK(uncertainty_csv(plant, again, 0) == csv);
        CHECK(uncertainty_json(plant, rules, again, 0) == json);
    }
}

TEST_CASE("ranges of the years ahead are in order, and threads and blocks do not change them") {
    const RuleSet& rules = extended_rules();
    const Plant plant = sample_plant(rules);
    const std::vector<std::uint32_t> segments{0, 3, 17, 200, 410, 599};
    const std::vector<Date> dates{plant.today, add_years(plant.today, 10)};
    const ForecastRanges first = forecast_ranges(plant, rules, segments, dates, 64);
    std::size_t open = 0;
    for (const auto& each : first.segments) {
        for (const ProbabilityRange& range : each) {
            CHECK(range.low_per_year <= range.middle_per_year);
            CHECK(range.middle_per_year <= range.high_per_year);
            if (range.low_per_year < range.high_per_year) ++open;
        }
    }
    CHECK(open > 6);
    // The other order, other blocks, one thread.
    const std::vector<std::uint32_t> backwards{segments.rbegin(), segments.rend()};
    const ForecastRanges again =
        forecast_ranges(plant, rules, backwards, dates, 64, {1, 1, nullptr});
    for (std::size_t i = 0; i < segments.size(); ++i) {
        const auto& other = again.segments[segments.size() - 1 - i];
        REQUIRE(other.size() == dates.size());
        for (std::size_t k = 0; k < dates.size(); ++k) {
            CHECK(other[k].low_per_year == first.segments[i][k].low_per_year);
            CHECK(other[k].high_per_year == first.segments[i][k].high_per_year);
        }
    }
}

TEST_CASE("at the rank date a range is the quantile of the samples that rank") {
    const RuleSet& rules = extended_rules();
    const Plant plant = sample_plant(rules);
    const Ranking ranking = rank(plant, rules);
    constexpr std::size_t samples = 64;
    const InputDraws draws(plant, rules, fields_by_mechanism(rules));
    const SobolPoints points(draws.dimensions(), samples);
    SampleRisks runner(plant, rules, draws, points);
    std::size_t compared = 0;
    for (std::size_t rank = 0; rank < 60; ++rank) {
        const std::uint32_t row = ranking.order[rank];
        if (!ranking.partner.empty() && ranking.partner[row] != Ranking::alone) continue;
        const std::uint32_t segment = ranking.segment_rows[row];
        std::vector<DrawnCell> cells;
        const bool wall = row < ranking.mechanism_rows.wall_loss;
        draws.add_cells(segment, wall ? reads_wall_loss : reads_cracking, cells);
        const SampledSegment sampled{segment, cells};
        runner.run({&sampled, 1});
        const auto outcome = runner.outcome(0).damage_factor;
        if (outcome.size() != samples) continue;
        std::vector<double> damage{outcome.begin(), outcome.end()};
        std::ranges::sort(damage);
        const auto at = static_cast<Eigen::Index>(row);
        // eq. 20: the frequency of the size times the management factor.
        const double per_damage = ranking.likelihood.probability_of_failure_per_year[at] /
                                  ranking.likelihood.damage_factor[at];
        const ForecastRanges ranges =
            forecast_ranges(plant, rules, {&segment, 1}, {plant.ranked_at.date}, samples);
        const ProbabilityRange& range = ranges.segments[0].at(0);
        CHECK(range.low_per_year == doctest::Approx(per_damage * damage[6]).epsilon(1e-9));
        CHECK(range.middle_per_year == doctest::Approx(per_damage * damage[31]).epsilon(1e-9));
        CHECK(range.high_per_year == doctest::Approx(per_damage * damage[57]).epsilon(1e-9));
        ++compared;
    }
    CHECK(compared > 30);
}

TEST_CASE("rows in another order give every segment the same answer") {
    const RuleSet& rules = published_rules();
    SmallPlant made = dozen();
    const Plant plant = assemble(made, rules);
    std::ranges::reverse(made.segments);
    std::ranges::rotate(made.segments, made.segments.begin() + 5);
    const Plant shuffled = assemble(made, rules);
    CHECK(uncertainty_csv(plant, rank_uncertainty(plant, rules, {.samples = 128, .top = 4}), 0) ==
          uncertainty_csv(shuffled, rank_uncertainty(shuffled, rules, {.samples = 128, .top = 4}),
                          0));
}

TEST_CASE("a segment's own draws do not change with the segments beside it") {
    const RuleSet& rules = published_rules();
    SmallPlant made = dozen();
    const Plant plant = assemble(made, rules);
    made.segments.resize(4);
    const Plant fewer = assemble(made, rules);
    const Uncertainty all = rank_uncertainty(plant, rules, options);
    const Uncertainty some = rank_uncertainty(fewer, rules, options);
    const auto of_all = by_name(plant, all);
    for (const auto& [name, each] : by_name(fewer, some)) {
        CAPTURE(name);
        CHECK(each->expected_risk_per_year == of_all.at(name)->expected_risk_per_year);
        CHECK(each->expected_damage_factor == of_all.at(name)->expected_damage_factor);
    }
}

TEST_CASE("without gaps every rank is certain") {
    const RuleSet& rules = published_rules();
    SmallPlant made = dozen();
    for (std::size_t i = 0; i < made.segments.size(); i += 3) {
        made.segments[i] = made.segments[i + 1];
        made.segments[i]["segment"] = "F-" + std::to_string(i);
    }
    const Plant plant = assemble(made, rules);
    const Uncertainty sure = rank_uncertainty(plant, rules, {.samples = 32, .top = 5});
    for (std::size_t i = 0; i < sure.segments.size(); ++i) {
        const SegmentUncertainty& each = sure.segments[i];
        CHECK(each.gap_count == 0);
        CHECK(each.rank_low == static_cast<double>(i + 1));
        CHECK(each.rank_high == each.rank_low);
        CHECK(each.top_probability == (i < 5 ? 1.0 : 0.0));
        CHECK(each.expected_risk_per_year == each.risk_per_year);
    }
    CHECK(sure.gaps.empty());
    CHECK(sure.find_first.empty());
}

TEST_CASE("chances of the top group add up to its size, and gaps explain the rank") {
    const RuleSet& rules = published_rules();
    const Plant plant = assemble(dozen(), rules);
    const Uncertainty sure = rank_uncertainty(plant, rules, {.samples = 1024, .top = 4});
    double sum = 0.0;
    std::size_t moved = 0;
    for (const SegmentUncertainty& each : sure.segments) {
        sum += each.top_probability;
        CHECK(each.rank_low <= each.rank_high);
        double shares = 0.0;
        for (std::size_t g = each.first_gap; g < each.first_gap + each.gap_count; ++g) {
            shares += sure.gaps[g].rank_share;
        }
        CHECK(shares <= 1.05);  // first-order shares cannot exceed the whole, but for chance
        moved += each.rank_high > each.rank_low ? 1 : 0;
    }
    CHECK(sum == doctest::Approx(4.0));
    CHECK(moved > 4);
    // A step of consequence is a factor of ten: it has to be the record to find first.
    REQUIRE(!sure.find_first.empty());
    CHECK(sure.gaps[sure.find_first[0]].distribution->info.name == "missing_consequence_category");
    for (std::size_t k = 1; k < sure.find_first.size(); ++k) {
        CHECK(sure.gaps[sure.find_first[k - 1]].doubt_removed >=
              sure.gaps[sure.find_first[k]].doubt_removed);
    }
}

TEST_CASE("a record that is found takes its share of the doubt away") {
    const RuleSet& rules = published_rules();
    SmallPlant made = dozen();
    const Plant plant = assemble(made, rules);
    const UncertaintyOptions many{.samples = 2048, .top = 4};
    const Uncertainty before = rank_uncertainty(plant, rules, many);
    REQUIRE(!before.find_first.empty());
    const GapEffect& gap = before.gaps[before.find_first[0]];
    const SegmentUncertainty& each = before.segments[gap.segment];
    const std::string name{plant.segments.texts(SegmentField::segment)[each.segment_row]};
    // Mean of p (1 - p) over what the record may turn out to say, by its shares.
    const std::array<std::pair<const char*, double>, 5> shares{
        {{"A", 0.10}, {"B", 0.25}, {"C", 0.35}, {"D", 0.22}, {"E", 0.08}}};
    REQUIRE(gap.distribution->info.name == "missing_consequence_category");
    double left = 0.0;
    for (const auto& [word, share] : shares) {
        for (Cells& cells : made.segments) {
            if (cells["segment"] == name) cells["consequence_category"] = word;
        }
        const Plant known = assemble(made, rules);
        const Uncertainty after = rank_uncertainty(known, rules, many);
        const double p = by_name(known, after).at(name)->top_probability;
        left += share * p * (1.0 - p);
    }
    const double doubt = each.top_probability * (1.0 - each.top_probability);
    CHECK(gap.doubt_removed == doctest::Approx(doubt - left).epsilon(0.1));
}

}  // namespace
}  // namespace lagline
