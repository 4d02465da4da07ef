#include "degradation/rates.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/printed.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr double one_year = 1.0;

struct Found {
    WallLossRates rates;
    std::vector<Reading> readings;
};

Found rates_of(const std::vector<Cells>& inspections, const Cells& segment_changes = {}) {
    const Plant plant =
        assemble({.segments = {segment_cells("S-1", segment_changes)}, .inspections = inspections},
                 published_rules());
    const auto effectiveness = inspection_effectiveness(plant, published_rules());
    Found found;
    const auto never = [](const History&, Date) { return 0.0; };
    (void)read_history(plant, 0, make_date(2025, 1, 1), effectiveness,
                       history_rules(published_rules()), 0.1, never, found.readings);
    found.rates = wall_loss_rates(plant, 0, found.readings, one_year);
    return found;
}

Cells thickness(const char* date, const char* wall) {
    return inspection_cells("S-1", date, {{"least_thickness", wall}});
}

TEST_CASE(
    "API 570, corrosion rates: 0.575, 0.550 and 0.500 in give 7.5 mpy long and 10 mpy short") {
    // Worked example of a public training text on API 570: 2003, 2008 and 2013.
    const Found found =
        rates_of({thickness("2008-01-01", "0.550 in"), thickness("2013-01-01", "0.500 in")},
                 {{"nominal_wall", "0.575 in"},
                  {"in_service", "2003-01-01"},
                  {"coating_date", "2003-01-01"}});
    REQUIRE(found.rates.known);
    CHECK(printed_like(found.rates.long_term_mm_per_year / mm_per_mil, "7.5000") == "7.5000");
    CHECK(printed_like(found.rates.short_term_mm_per_year / mm_per_mil, "10.0000") == "10.0000");
    CHECK(found.rates.initial.reading == History::nothing);
    CHECK(found.rates.previous.reading == 0);
    CHECK(found.rates.actual.reading == 1);
}

TEST_CASE("without a reading, or with too little time between two walls, there is no rate") {
    CHECK_FALSE(rates_of({}).rates.known);
    CHECK_FALSE(rates_of({thickness("2005-12-31", "6 mm")}).rates.known);
    CHECK(rates_of({thickness("2006-01-01", "6 mm")}).rates.known);
    // Within a year of the reading before it, the short-term rate starts further back.
    const auto close =
        rates_of({thickness("2015-01-01", "6.5 mm"), thickness("2019-07-01", "6.2 mm"),
                  thickness("2020-01-01", "6 mm")})
            .rates;
    CHECK(close.previous.reading == 0);
    CHECK(close.short_term_mm_per_year == doctest::Approx(0.5 / 5.0).epsilon(1e-14));
}

TEST_CASE("one reading: both rates start at the nominal wall and are the same") {
    const auto rates = rates_of({thickness("2015-01-01", "6.11 mm")}).rates;
    CHECK(rates.long_term_mm_per_year == doctest::Approx(0.1).epsilon(1e-14));
    CHECK(rates.short_term_mm_per_year == rates.long_term_mm_per_year);
    CHECK(rates.previous.reading == History::nothing);
}

TEST_CASE("a reading at the start of service takes the place of the nominal wall") {
    const auto rates =
        rates_of({thickness("2005-01-01", "7.5 mm"), thickness("2015-01-01", "6.5 mm")}).rates;
    CHECK(rates.initial.reading == 0);
    CHECK(rates.long_term_mm_per_year == doctest::Approx(0.1).epsilon(1e-14));
}

TEST_CASE("a wall that grew gives a rate of 0, not a negative one") {
    const auto rates =
        rates_of({thickness("2010-01-01", "6 mm"), thickness("2015-01-01", "6.2 mm")}).rates;
    CHECK(rates.short_term_mm_per_year == 0.0);
    CHECK(rates.long_term_mm_per_year > 0.0);
}

// What a technique explains is 0.3 mm, the mill an eighth of the nominal 7.11 mm.
WallTolerance usual() { return {&published_rules().lookup("reading_tolerance"), 0.125}; }
WallTolerance none() {
    static const LookupTable exact = [] {
        LookupTable table = published_rules().lookup("reading_tolerance");
        for (RuleEntry& entry : table.entries) entry.value = 0.0;
        return table;
    }();
    return {&exact, 0.0};
}

TEST_CASE("the measured rate times the exposed time gives the loss back") {
    // 1 mm lost from 2005 to 2015, 0.8 mm of it since 2011; protected until 2009.
    const auto rates =
        rates_of({thickness("2011-01-01", "6.91 mm"), thickness("2015-01-01", "6.11 mm")}).rates;
    const auto exposed = [](Date from, Date to) {
        return years_between(std::max(from, make_date(2009, 1, 1)), to);
    };
    const double rate = measured_rate(rates, exposed, 0.25, none()).least_mm_per_year;
    CHECK(rate == doctest::Approx(0.8 / 4.0).epsilon(1e-14));  // short-term governs
    CHECK(rate * exposed(make_date(2011, 1, 1), make_date(2015, 1, 1)) ==
          doctest::Approx(0.8).epsilon(1e-14));
    const auto long_only = rates_of({thickness("2015-01-01", "6.11 mm")}).rates;
    CHECK(measured_rate(long_only, exposed, 0.25, none()).least_mm_per_year ==
          doctest::Approx(1.0 / 6.0).epsilon(1e-14));  // ten years, six of them exposed
}

TEST_CASE("a loss under a coating that is believed sound is spread over a quarter of the time") {
    const auto rates = rates_of({thickness("2015-01-01", "6.11 mm")}).rates;
    const auto never = [](Date, Date) { return 0.0; };
    CHECK(measured_rate(rates, never, 0.25, none()).least_mm_per_year ==
          doctest::Approx(1.0 / 2.5).epsilon(1e-14));
    CHECK(measured_rate(rates_of({}).rates, never, 0.25, none()).least_mm_per_year == 0.0);
    const auto no_loss = rates_of({thickness("2015-01-01", "7.11 mm")}).rates;
    CHECK(measured_rate(no_loss, never, 0.25, none()).least_mm_per_year == 0.0);
}

TEST_CASE("the rate used: accepted ones stand down to the floor, others only above the table's") {
    CHECK(used_rate_mm_per_year(0.2, {0.1, 0.1}, true, 0.25) == 0.1);
    CHECK(used_rate_mm_per_year(0.2, {0.3, 0.3}, true, 0.25) == 0.3);
    CHECK(used_rate_mm_per_year(0.2, {0.01, 0.01}, true, 0.25) == 0.05);
    CHECK(used_rate_mm_per_year(0.2, {0.1, 0.1}, false, 0.25) == 0.2);
    CHECK(used_rate_mm_per_year(0.2, {0.3, 0.3}, false, 0.25) == 0.3);
    // Between the two measured ones the table's stands.
    CHECK(used_rate_mm_per_year(0.2, {0.1, 0.3}, true, 0.25) == 0.2);
    CHECK(used_rate_mm_per_year(0.2, {0.0, 0.1}, true, 0.25) == 0.1);
}

TEST_CASE("a loss that mill and technique explain is no evidence of a rate (ASTM A106: 12.5 %)") {
    const auto bare = [](Date from, Date to) { return years_between(from, to); };
    const auto lost = [&](const char* wall) {
        return measured_rate(rates_of({thickness("2015-01-01", wall)}).rates, bare, 0.25, usual());
    };
    // 0.125 x 7.11 + 0.3 = 1.18875 mm; ten years.
    CHECK(lost("5.93 mm").least_mm_per_year == 0.0);
    CHECK(lost("5.91 mm").least_mm_per_year == doctest::Approx((1.2 - 1.18875) / 10.0));
    CHECK(lost("7.11 mm").greatest_mm_per_year == doctest::Approx(0.118875));
    // Between two readings the technique alone, and the tighter limit of the two counts.
    const MeasuredRate two = measured_rate(
        rates_of({thickness("2010-01-01", "7 mm"), thickness("2015-01-01", "6.5 mm")}).rates, bare,
        0.25, usual());
    CHECK(two.least_mm_per_year == doctest::Approx(0.2 / 5.0));
    CHECK(two.greatest_mm_per_year == doctest::Approx(0.8 / 5.0));
}

}  // namespace
}  // namespace lagline
