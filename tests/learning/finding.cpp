#include "learning/finding.h"

#include <doctest/doctest.h>

#include "degradation/history.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr Date after = make_date(2015, 1, 1);
constexpr Date until = make_date(2020, 1, 1);

std::optional<Outcome> outcome_of(const std::vector<Cells>& inspections, bool cracking = false,
                                  double finding_wall_mm_of = 6.0) {
    const RuleSet& rules = published_rules();
    const Plant plant =
        assemble({.segments = {segment_cells("S-1")}, .inspections = inspections}, rules);
    const auto effectiveness = cracking ? crack_inspection_effectiveness(plant, rules)
                                        : inspection_effectiveness(plant, rules);
    return first_outcome(plant, finding_rules(rules), effectiveness,
                         {0, cracking, finding_wall_mm_of}, after, until);
}

Cells read(const char* date, const char* wall, const Cells& more = {}) {
    Cells cells{{"least_thickness", wall}};
    cells.insert(more.begin(), more.end());
    return inspection_cells("S-1", date, cells);
}

TEST_CASE("a finding is an eighth of the nominal wall, or the minimum where that is thicker") {
    const FindingRules rules = finding_rules(published_rules());
    CHECK(rules.significant_loss == 0.125);  // rules/published/learning.yaml
    CHECK(finding_wall_mm(rules, 8.0, 3.0) == 7.0);
    CHECK(finding_wall_mm(rules, 8.0, 7.5) == 7.5);
}

TEST_CASE("the first inspection in the window that read a wall decides") {
    const auto first = outcome_of(
        {read("2014-01-01", "3 mm"), read("2016-01-01", "6.5 mm"), read("2017-01-01", "3 mm")});
    REQUIRE(first.has_value());
    CHECK_FALSE(first->found);
    CHECK(first->day == make_date(2016, 1, 1));
    CHECK(first->inspection == 1);
    CHECK(outcome_of({read("2016-01-01", "6 mm")})->found);
    CHECK_FALSE(outcome_of({read("2016-01-01", "6.01 mm")})->found);
}

TEST_CASE("the window is open at its beginning and closed at its end") {
    CHECK_FALSE(outcome_of({read("2015-01-01", "3 mm")}).has_value());
    CHECK(outcome_of({read("2015-01-02", "3 mm")}).has_value());
    CHECK(outcome_of({read("2020-01-01", "3 mm")}).has_value());
    CHECK_FALSE(outcome_of({read("2020-01-02", "3 mm")}).has_value());
    // Only the year: it may lie before the window, or after it.
    CHECK_FALSE(outcome_of({read("2015", "3 mm")}).has_value());
    CHECK_FALSE(outcome_of({read("2019-06", "3 mm")}).has_value());
    CHECK(outcome_of({read("2017", "3 mm")}).has_value());
}

TEST_CASE("what cannot tell is passed over") {
    const Cells little{{"coverage", "2 %"}};
    const Cells outside{{"technique", "external_visual"}};
    const auto found = outcome_of(
        {read("2016-01-01", "3 mm", little), read("2016-06-01", "3 mm", outside),
         inspection_cells("S-1", "2017-01-01", {{"rust_grade", "3"}}), read("2018-01-01", "7 mm")});
    REQUIRE(found.has_value());
    CHECK(found->inspection == 3);
    CHECK_FALSE(found->found);
}

TEST_CASE("a pit is taken off the nominal wall where no thickness was read") {
    // 7.11 - 1.2 = 5.91.
    CHECK(outcome_of({inspection_cells("S-1", "2016-01-01", {{"pit_depth", "1.2 mm"}})})->found);
    CHECK_FALSE(
        outcome_of({inspection_cells("S-1", "2016-01-01", {{"pit_depth", "1.0 mm"}})})->found);
}

TEST_CASE("cracks are looked for by what says whether there were some") {
    const auto cracks = [](const char* date, const char* word) {
        return inspection_cells("S-1", date,
                                {{"technique", "penetrant_testing"},
                                 {"cracks_found", word},
                                 {"least_thickness", "3 mm"}});
    };
    const auto found = outcome_of(
        {read("2016-01-01", "3 mm"), cracks("2017-01-01", "no"), cracks("2018-01-01", "yes")},
        true);
    REQUIRE(found.has_value());
    CHECK(found->inspection == 1);
    CHECK_FALSE(found->found);
    CHECK(outcome_of({cracks("2017-01-01", "yes")}, true)->found);
}

}  // namespace
}  // namespace lagline
