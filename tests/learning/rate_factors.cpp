#include "learning/rate_factors.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "learning/partial_pooling.h"
#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr auto by_unit = index_of(SegmentField::unit);

// Bare pipe of 2005, so that it corrodes from its first day: at 71.1 degC (160 degF, moderate)
// 10 mpy x 1.25 = 0.3175 mm/y.
Cells bare(const std::string& name, const std::string& unit) {
    return segment_cells(name, {{"unit", unit},
                                {"operating_temperature", "160 degF"},
                                {"nominal_wall", "12 mm"},
                                {"coating_quality", "none"}});
}
constexpr double rate_mm_per_year = 0.3175;

Cells reading(const std::string& name, const char* date, double wall_mm) {
    return inspection_cells(name, date, {{"least_thickness", std::to_string(wall_mm) + " mm"}});
}

/// Four units whose steel lost a known multiple of what the rules expect in ten years.
SmallPlant four_units() {
    SmallPlant plant;
    constexpr std::array<std::array<double, 3>, 4> multiples{
        {{0.5, 0.6, 0.7}, {1.0, 1.1, 0.9}, {1.6, 1.5, 1.8}, {0.9, 0.8, 1.2}}};
    for (std::size_t unit = 0; unit < multiples.size(); ++unit) {
        for (std::size_t i = 0; i < multiples[unit].size(); ++i) {
            const std::string name = "S-" + std::to_string(unit) + std::to_string(i);
            plant.segments.push_back(bare(name, "U-" + std::to_string(unit)));
            plant.inspections.push_back(
                reading(name, "2015-01-01", 12.0 - multiples[unit][i] * 10.0 * rate_mm_per_year));
        }
    }
    return plant;
}

TEST_CASE("the ratio is measured over expected loss, at the day of the last reading that counts") {
    SmallPlant small;
    small.segments = {bare("S-1", "U-1")};
    small.inspections = {
        reading("S-1", "2010-01-01", 11.0), reading("S-1", "2015-01-01", 10.0),
        inspection_cells("S-1", "2017-01-01", {{"least_thickness", "9 mm"}, {"coverage", "1 %"}})};
    const Plant plant = assemble(small, published_rules());
    const RateFactors factors = rate_factors(plant, published_rules(), by_unit);
    REQUIRE(factors.ratios.size() == 1);
    const RateRatio& ratio = factors.ratios.front();
    CHECK(ratio.inspection == 1);
    CHECK(ratio.expected_loss_mm == doctest::Approx(3.175).epsilon(1e-9));
    CHECK(ratio.measured_loss_mm == doctest::Approx(2.0).epsilon(1e-12));
    CHECK(ratio.log_ratio == doctest::Approx(std::log(2.0 / 3.175)).epsilon(1e-9));
    CHECK(factors.learned == make_date(2015, 1, 1));
    CHECK_FALSE(factors.refusal.empty());  // one group
    // One reading has no spread: an interval of no width would look certain.
    REQUIRE(factors.groups.size() == 1);
    CHECK_FALSE(factors.groups.front().own_interval.has_value());
}

TEST_CASE("a loss that cannot be told counts as half of the least; none expected teaches nothing") {
    SmallPlant small;
    small.segments = {bare("S-1", "U-1"), bare("S-2", "U-1")};
    small.inspections = {reading("S-1", "2015-01-01", 12.2), reading("S-2", "2006-01-01", 9.0)};
    const Plant plant = assemble(small, published_rules());
    const RateFactors factors = rate_factors(plant, published_rules(), by_unit);
    REQUIRE(factors.ratios.size() == 1);
    CHECK(factors.too_early == 1);  // 0.32 mm expected in a year, 0.5 needed
    CHECK_FALSE(factors.ratios[0].told);
    CHECK(factors.ratios[0].log_ratio == doctest::Approx(std::log(0.25 / 3.175)).epsilon(1e-9));
}

TEST_CASE("groups are the means of the logarithms, pooled with the variance within") {
    const Plant plant = assemble(four_units(), published_rules());
    const RateFactors factors = rate_factors(plant, published_rules(), by_unit);
    REQUIRE(factors.refusal.empty());
    REQUIRE(factors.groups.size() == 4);
    // By hand: geometric means of the multiples.
    CHECK(factors.groups[0].own == doctest::Approx(std::cbrt(0.5 * 0.6 * 0.7)).epsilon(1e-6));
    CHECK(factors.groups[2].own == doctest::Approx(std::cbrt(1.6 * 1.5 * 1.8)).epsilon(1e-6));
    for (const RateFactor& each : factors.groups) {
        CHECK(each.readings == 3);
        CHECK(each.told == 3);
        CHECK(each.interval.low < each.factor);
        CHECK(each.factor < each.interval.high);
    }
    // Drawn inwards.
    CHECK(factors.groups[0].factor > factors.groups[0].own);
    CHECK(factors.groups[2].factor < factors.groups[2].own);
    CHECK(factors.spread_between > 0.0);
    CHECK(factors.spread_within > 0.0);
}

TEST_CASE("a factor that was learned before by the same column is replaced, not multiplied") {
    RuleSet rules = published_rules();
    SiteFactorTable learned;
    learned.info.by = "unit";
    learned.otherwise.value = 0.25;
    learned.learned = make_date(2014, 1, 1);
    const Plant plant = assemble(four_units(), rules);
    const double before = rate_factors(plant, rules, by_unit).groups[1].own;
    rules.site_factors.emplace("learned_by_unit", learned);
    CHECK(rate_factors(plant, rules, by_unit).groups[1].own == before);
    // One that was not learned belongs to the expectation.
    rules.site_factors.begin()->second.learned.reset();
    CHECK(rate_factors(plant, rules, by_unit).groups[1].own ==
          doctest::Approx(4.0 * before).epsilon(1e-9));
}

TEST_CASE("columns of texts and words can be grouped by, others cannot") {
    for (const auto field : {SegmentField::unit, SegmentField::insulation_type,
                             SegmentField::coating_system, SegmentField::pooling}) {
        CHECK(groups_by(index_of(field)));
    }
    for (const auto field : {SegmentField::in_service, SegmentField::operating_temperature}) {
        CHECK_FALSE(groups_by(index_of(field)));
    }
}

}  // namespace
}  // namespace lagline
