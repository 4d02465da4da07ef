// Coatings renewed at inspections, in full or in part.
#include <doctest/doctest.h>

#include <string>

#include "degradation/coating_life.h"
#include "extended/made_plant.h"

namespace lagline {
namespace {

constexpr Weibull life{9.0, 2.5};
const Date known = make_date(2015, 1, 1);
const Date now = make_date(2025, 1, 1);

double exposed(const std::vector<RowCells>& inspections) {
    const RuleSet& rules = shipped_extended();
    const Plant plant =
        read_made({.segments = {made_segment(
                       "S-1", {{"coating_system", "epoxy"}, {"coating_date", "2005-01-01"}})},
                   .inspections = inspections},
                  rules);
    return expected_unprotected(plant, coating_life_rules(rules, plant), {life, life},
                                history_rules(rules), 0, known, now);
}

RowCells renewal(std::string_view date, int percent) {
    return made_inspection("S-1", date, {{"coating_renewed", std::to_string(percent) + " %"}});
}

TEST_CASE("without an inspection the whole surface ages from the coating date") {
    CHECK(exposed({}) == doctest::Approx(unprotected_time(life, {}, 10.0, 20.0)).epsilon(1e-13));
}

TEST_CASE("renewed in full, the coating starts anew") {
    CHECK(exposed({renewal("2015-01-01", 100)}) ==
          doctest::Approx(unprotected_time(life, {}, 0.0, 10.0)).epsilon(1e-13));
    CHECK(exposed({renewal("2018-01-01", 100)}) ==
          doctest::Approx(unprotected_time(life, {}, 10.0, 13.0) +
                          unprotected_time(life, {}, 0.0, 7.0))
              .epsilon(1e-13));
    // What was found before it says nothing of the new coating.
    CHECK(exposed({made_inspection("S-1", "2014-01-01", {{"rust_grade", "1"}}),
                   renewal("2015-01-01", 100)}) ==
          doctest::Approx(unprotected_time(life, {}, 0.0, 10.0)).epsilon(1e-13));
}

TEST_CASE("renewed in part, the exposure lies between, by the share") {
    const double none = exposed({renewal("2018-01-01", 0)});
    const double full = exposed({renewal("2018-01-01", 100)});
    CHECK(none == exposed({}));
    double before = none;
    for (const int percent : {10, 25, 50, 75, 99}) {
        CAPTURE(percent);
        const double part = exposed({renewal("2018-01-01", percent)});
        CHECK(part < before);
        CHECK(part > full);
        CHECK(part == doctest::Approx(none + (full - none) * percent / 100.0).epsilon(1e-12));
        before = part;
    }
}

TEST_CASE("two renewals of half the surface leave a quarter of the first coat") {
    const double found = exposed({renewal("2016-01-01", 50), renewal("2020-01-01", 50)});
    const auto old_coat = [](double from, double to) {
        return unprotected_time(life, {}, from + 10.0, to + 10.0);
    };
    const auto new_coat = [](double from, double to) {
        return unprotected_time(life, {}, from, to);
    };
    const double expected = old_coat(0, 1) + 0.5 * old_coat(1, 5) + 0.25 * old_coat(5, 10) +
                            0.5 * new_coat(0, 4) + 0.25 * new_coat(4, 9) + 0.5 * new_coat(0, 5);
    CHECK(found == doctest::Approx(expected).epsilon(1e-12));
}

TEST_CASE("what was seen conditions the coating that was there") {
    const auto graded = [](std::string_view date, const char* grade) {
        return made_inspection("S-1", date, {{"rust_grade", grade}});
    };
    // Sound at age 14, on 2019-01-01.
    CHECK(exposed({graded("2019-01-01", "9")}) ==
          doctest::Approx(unprotected_time(life, {14.0, -1.0}, 10.0, 20.0)).epsilon(1e-12));
    CHECK(exposed({graded("2012-01-01", "8"), graded("2019-01-01", "2")}) ==
          doctest::Approx(unprotected_time(life, {7.0, 14.0}, 10.0, 20.0)).epsilon(1e-12));
    // Broken down stays so, whatever a later inspection calls it.
    CHECK(exposed({graded("2014-01-01", "3"), graded("2019-01-01", "9")}) == 10.0);
    // Grades between the two limits would say neither; a later inspection is not known yet.
    CHECK(exposed({graded("2026-01-01", "0")}) == exposed({}));
}

double recoated_in_2019(const CoatLives& lives, bool earlier_coat) {
    const RuleSet& rules = shipped_extended();
    const Plant plant =
        read_made({.segments = {made_segment("S-1", {{"coating_system", "epoxy"},
                                                     {"in_service", "2005-01-01"},
                                                     {"coating_date", "2019-01-01"}})}},
                  rules);
    HistoryRules history = history_rules(rules);
    history.earlier_coat = earlier_coat;
    return expected_unprotected(plant, coating_life_rules(rules, plant), lives, history, 0, known,
                                now);
}

TEST_CASE("a coating dated after the start of service is a recoat of one like it") {
    CHECK(recoated_in_2019({life, life}, true) ==
          doctest::Approx(unprotected_time(life, {}, 10.0, 14.0) +
                          unprotected_time(life, {}, 0.0, 6.0))
              .epsilon(1e-13));
    // Without that rule the steel was bare until then.
    CHECK(recoated_in_2019({life, life}, false) ==
          doctest::Approx(4.0 + unprotected_time(life, {}, 0.0, 6.0)).epsilon(1e-13));
}

TEST_CASE("a recoat that is worse than the coat before it counts as that one") {
    constexpr Weibull good{40.0, 2.5};
    constexpr Weibull bad{1.0, 2.5};
    CHECK(recoated_in_2019({.present = bad, .earlier = good}, true) ==
          doctest::Approx(unprotected_time(good, {}, 10.0, 20.0)).epsilon(1e-13));
}

}  // namespace
}  // namespace lagline
