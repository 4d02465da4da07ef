#include "ranking/overview.h"

#include <doctest/doctest.h>

#include <numeric>

#include "ranking/matrix.h"
#include "report_page/page_content.h"

namespace lagline {
namespace {

const PageContent& sample_page() {
    static const PageContent page = page_content(sample_plant(extended_rules()), extended_rules());
    return page;
}

const PlantOverview& sample_overview() {
    static const PlantOverview overview = overview_of(sample_page().plant, sample_page().rules,
                                                      sample_page().ranking, sample_page().ahead);
    return overview;
}

}  // namespace

TEST_CASE("the overview counts what the matrix counts") {
    const auto& page = sample_page();
    CHECK(sample_overview().bands == risk_matrix(page.plant, page.rules, page.ranking).bands);
    CHECK(sample_overview().ranked == page.ranking.order.size());
}

TEST_CASE("units add up to the plant") {
    std::size_t segments = 0;
    std::size_t due = 0;
    double risk = 0.0;
    double before = sample_overview().units.front().risk_per_year;
    for (const UnitOverview& unit : sample_overview().units) {
        segments += unit.segments;
        due += unit.due;
        risk += unit.risk_per_year;
        CHECK(std::accumulate(unit.bands.begin(), unit.bands.end(), std::size_t{0}) ==
              unit.segments);
        CHECK(unit.risk_per_year <= before);
        before = unit.risk_per_year;
    }
    CHECK(segments == sample_overview().ranked);
    CHECK(due == sample_overview().due);
    CHECK(risk == doctest::Approx(sample_overview().risk_per_year).epsilon(1e-12));
}

TEST_CASE("risk by year is the sum of the curves, today's that of the outlook") {
    const auto& page = sample_page();
    REQUIRE(sample_overview().risk_by_year.size() == page.ahead.dates.size());
    double today = 0.0;
    for (const std::uint32_t row : page.ranking.order) {
        today += page.ranking.outlook->risk_today_per_year[row];
    }
    CHECK(sample_overview().risk_by_year.front() == doctest::Approx(today).epsilon(1e-12));
    double last = 0.0;
    for (const ForecastCurve& curve : page.ahead.curves) last += curve.points.back().risk_per_year;
    CHECK(sample_overview().risk_by_year.back() == doctest::Approx(last).epsilon(1e-12));
}

TEST_CASE("due by year holds each segment once, in the year of its first criterion") {
    const auto& page = sample_page();
    std::size_t counted = 0;
    for (const DueInYear& year : sample_overview().due_by_year) {
        counted += year[0] + year[1] + year[2];
    }
    std::size_t due = 0;
    std::size_t in_third_year = 0;
    for (const ForecastCurve& curve : page.ahead.curves) {
        const auto day = curve.due.date();
        if (!day) continue;
        ++due;
        if (*day > page.ahead.dates[2] && *day <= page.ahead.dates[3]) ++in_third_year;
    }
    CHECK(due > 0);
    CHECK(counted == due);
    const DueInYear& third = sample_overview().due_by_year[3];
    CHECK(third[0] + third[1] + third[2] == in_third_year);
    const DueInYear& now = sample_overview().due_by_year[0];
    CHECK(now[0] + now[1] + now[2] == sample_overview().due_today);
}

TEST_CASE("a plant with nothing to rank has an empty overview") {
    // Published rules do not rank stainless steel.
    const PageContent page =
        page_content(assemble({.segments = {segment_cells(
                                   "S-1", {{"material", "duplex_stainless"}, {"driver", "mild"}})}},
                              published_rules()),
                     published_rules());
    const PlantOverview overview = overview_of(page.plant, page.rules, page.ranking, page.ahead);
    CHECK(overview.ranked + overview.not_ranked == 1);
    CHECK(overview.first_ten_share <= 1.0);
    CHECK(report_page(page.content()).find("\"shown\":") != std::string::npos);
}

}  // namespace lagline
