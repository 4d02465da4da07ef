#include "learning/backtest.h"

#include <doctest/doctest.h>

#include <cmath>

#include "intake/source_file.h"
#include "learning/made_backtest.h"
#include "report/backtest_data.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

PlantSources sources_of(const SmallPlant& small) {
    Report report;
    PlantSources sources;
    sources.segments = source_from_text(csv_of(small.segments), "segments.csv", report);
    sources.inspections = source_from_text(csv_of(small.inspections), "inspections.csv", report);
    return sources;
}

Backtest test_of(const SmallPlant& small, const BacktestOptions& options) {
    const PlantSources sources = sources_of(small);
    const Plant today = read_at(sources, published_rules(), make_date(2026, 1, 1));
    return backtest(sources, today, published_rules(), options);
}

// Bare pipe of 2005 at the peak of the rate, 0.3175 mm/y of 12 mm.
Cells bare(const std::string& name) {
    return segment_cells(name, {{"operating_temperature", "160 degF"},
                                {"nominal_wall", "12 mm"},
                                {"coating_quality", "none"}});
}

TEST_CASE("the chance of a finding is the limit's quantile of the expected loss in each state") {
    SmallPlant small{.segments = {bare("S-1")}};
    small.inspections = {inspection_cells("S-1", "2010-01-01", {{"least_thickness", "8 mm"}})};
    const Backtest test =
        test_of(small, {.at = {make_date(2009, 1, 1)}, .within_years = 2, .plan = {}});
    REQUIRE(test.dates.size() == 1);
    REQUIRE(test.dates[0].looked.size() == 1);
    const LookedSegment& looked = test.dates[0].looked[0];
    CHECK(looked.found);
    // On the day, 5 years of 0.3175 mm are lost; 1.5 mm (an eighth of 12) make a finding.  Prior of
    // low confidence .5, .3, .2; variation .2.
    const auto phi = [](double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); };
    double expected = 0.0;
    struct State {
        double prior, multiple;
    };
    for (const auto& state : {State{0.5, 1.0}, State{0.3, 2.0}, State{0.2, 4.0}}) {
        const double loss = state.multiple * 5.0 * 0.3175;
        expected += state.prior * phi((loss - 1.5) / (0.2 * loss));
    }
    // A day of the window lies on a straight line: leap days move it by a thousandth of a year.
    CHECK(looked.chance == doctest::Approx(expected).epsilon(2e-3));
}

TEST_CASE("a wall that was known to be thin is a finding for certain") {
    SmallPlant small{.segments = {bare("S-1")}};
    small.inspections = {inspection_cells("S-1", "2008-01-01", {{"least_thickness", "6 mm"}}),
                         inspection_cells("S-1", "2010-01-01", {{"least_thickness", "6 mm"}})};
    const Backtest test =
        test_of(small, {.at = {make_date(2009, 1, 1)}, .within_years = 2, .plan = {}});
    CHECK(test.dates[0].looked[0].chance == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("dates are chosen backwards from the last window that is over, by looks and not finds") {
    SmallPlant small;
    for (int i = 0; i < 30; ++i) {
        const std::string name = "S-" + std::to_string(i);
        small.segments.push_back(bare(name));
        // 30 were looked at in 2016 to 2020, 25 in 2011 to 2015, 10 before.
        small.inspections.push_back(
            inspection_cells(name, "2018-01-01", {{"least_thickness", "11.9 mm"}}));
        if (i < 25) {
            small.inspections.push_back(
                inspection_cells(name, "2013-01-01", {{"least_thickness", "11.9 mm"}}));
        }
        if (i < 10) {
            small.inspections.push_back(
                inspection_cells(name, "2008-01-01", {{"least_thickness", "11.9 mm"}}));
        }
    }
    small.inspections.push_back(inspection_cells("S-0", "2021-03-01", {}));
    const Backtest test = test_of(small, {});
    REQUIRE(test.dates.size() == 2);
    CHECK(test.dates[0].at == make_date(2016, 1, 1));
    CHECK(test.dates[0].until == make_date(2021, 1, 1));
    CHECK(test.dates[0].looked.size() == 30);
    CHECK(test.dates[1].at == make_date(2011, 1, 1));
    CHECK(test.dates[1].looked.size() == 25);
    CHECK(test.found == 0);
    CHECK(test.gains[0].curve.empty());
    CHECK_FALSE(test.overlap);
    CHECK(test.brier.uncertainty == 0.0);
}

TEST_CASE("given dates may overlap or reach past the records, and that is told") {
    SmallPlant small{.segments = {bare("S-1")}};
    small.inspections = {inspection_cells("S-1", "2010-01-01", {{"least_thickness", "8 mm"}})};
    const Backtest test = test_of(
        small,
        {.at = {make_date(2008, 1, 1), make_date(2009, 1, 1)}, .within_years = 5, .plan = {}});
    CHECK(test.overlap);
    CHECK(test.dates[0].window_open);
    CHECK(test.found == 2);
}

TEST_CASE("all dates together: as if the same share were opened at each") {
    const Backtest test = backtest_of_seed(1, 600, "extended");
    REQUIRE(test.dates.size() >= 2);
    REQUIRE(test.found > 0);
    for (const OpeningOrder order : opening_orders) {
        const auto at = static_cast<std::size_t>(order);
        double area = 0.0;
        double met = 0.0;
        for (const PastDate& date : test.dates) {
            const double weight = static_cast<double>(date.found) / static_cast<double>(test.found);
            area += weight * date.gains[at].area;
            met += weight * met_at(date.gains[at].curve, 0.2);
        }
        CHECK(test.gains[at].area == doctest::Approx(area).epsilon(1e-12));
        CHECK(met_at(test.gains[at].curve, 0.2) == doctest::Approx(met).epsilon(1e-12));
        CHECK(test.gains[at].area <= test.best_area);
    }
}

// Six of the twenty seeds that bench_backtest prints; over those the mean is +0.137 and +0.151.
TEST_CASE("must show: by the chance of a finding Lagline meets findings before both naive orders") {
    for (const OpeningOrder naive : {OpeningOrder::age, OpeningOrder::temperature}) {
        CAPTURE(key_of(naive));
        double sum = 0.0;
        int ahead = 0;
        for (std::uint64_t seed = 1; seed <= 6; ++seed) {
            const Backtest test = backtest_of_seed(seed, 600, "extended");
            const double more = test.gains[static_cast<std::size_t>(OpeningOrder::chance)].area -
                                test.gains[static_cast<std::size_t>(naive)].area;
            sum += more;
            ahead += more > 0.0 ? 1 : 0;
        }
        CHECK(sum / 6.0 > 0.05);
        CHECK(ahead >= 5);
    }
}

// The hidden history dries out most insulation, which the method does not know of: it says too much.
TEST_CASE("on invented plants the stated chances are too high, and the scores say so") {
    const Backtest test = backtest_of_seed(1, 600, "extended");
    CHECK(test.brier.skill() < 0.0);
    CHECK(test.brier.reliability > test.brier.resolution);
    const CalibrationBand& highest = test.bands.back();
    CHECK(highest.predicted > highest.interval.high);
}

TEST_CASE("the same bytes on one thread and two, in blocks of 7 and 1024 rows") {
    const RuleSet rules = rules_from(rules_root(), "extended");
    const PlantSources sources =
        lagline::sources_of(synthesise({.segments = 320, .inspections = 0, .seed = 2}));
    const Plant today = read_at(sources, rules, make_date(2026, 1, 1));
    const auto bytes = [&](unsigned threads, std::size_t block) {
        BacktestOptions options;
        options.plan = {block, threads, nullptr};
        return backtest_json(today, rules, backtest(sources, today, rules, options));
    };
    const std::string first = bytes(1, 1024);
    CHECK(first.size() > 2'000);
    CHECK((bytes(2, 7) == first));
}

}  // namespace
}  // namespace lagline
