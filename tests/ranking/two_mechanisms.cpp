#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "ranking/explain.h"
#include "ranking/forecast.h"
#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

// A site whose austenitic steel also loses wall: both mechanisms on one segment.
RuleSet site_rules(const std::string& combination) {
    const TempFolder overlay;
    overlay.write("changes.yaml",
                  "ruleset: {name: site, meaning: Austenitic steel that pits}\n"
                  "changes:\n"
                  "  - table: wall_loss_of_family\n"
                  "    entry: austenitic\n"
                  "    to: yes\n"
                  "    reason: pits were found\n"
                  "    basis: site\n"
                  "  - table: mechanism_combination\n"
                  "    to: " +
                      combination +
                      "\n"
                      "    reason: stated for this test\n"
                      "    basis: site\n");
    LoadedRules loaded = load_rules(rules_root(), "published", overlay.path());
    INFO(to_text(loaded.report));
    REQUIRE(loaded.rules);
    REQUIRE(check_rules(*loaded.rules).ok());
    return std::move(*loaded.rules);
}

Plant mixed_plant(const RuleSet& rules) {
    return assemble({.segments = {segment_cells("C", {}),
                                  segment_cells("A", {{"material", "austenitic_stainless"}})}},
                    rules);
}

TEST_CASE("two mechanisms on one segment: one rank, and the rule set says how they combine") {
    const RuleSet sum = site_rules("sum");
    const Plant plant = mixed_plant(sum);
    const Ranking ranking = rank(plant, sum);
    CHECK(ranking.rows() == 3);
    CHECK(ranking.order.size() == 2);
    CHECK(ranking.not_ranked.empty());
    const auto row = find_row(plant, ranking, "A");
    REQUIRE(row);
    const auto& likelihood = ranking.likelihood;
    const auto at = static_cast<Eigen::Index>(*row);
    const double own = likelihood.damage_factor[at];
    const double other = likelihood.damage_factor[ranking.partner[*row]];
    CHECK(own > 0.0);
    CHECK(other > 0.0);
    CHECK(own >= other);
    CHECK(likelihood.combined_damage_factor[at] == own + other);
    CHECK(likelihood.other_damage_factor[at] == other);
    const double probability = likelihood.probability_of_failure_per_year[at];
    CHECK(probability ==
          doctest::Approx(std::min(likelihood.generic_frequency_per_year[at] *
                                       likelihood.management_factor[at] * (own + other),
                                   published_rules().value("probability_cap").value())));
    // The other row of the segment says the same.
    CHECK(likelihood.probability_of_failure_per_year[ranking.partner[*row]] == probability);

    const Explanation told = explain(plant, sum, ranking, *row);
    const auto combined = std::ranges::find_if(told.quantities, [](const ExplainedQuantity& each) {
        return each.info->key == "combined_damage_factor";
    });
    REQUIRE(combined != told.quantities.end());
    REQUIRE(combined->rules.size() == 1);
    CHECK(combined->rules[0].entry->word == "sum");

    const RuleSet largest = site_rules("largest");
    const Ranking second = rank(mixed_plant(largest), largest);
    CHECK(second.likelihood.combined_damage_factor[at] == std::max(own, other));
}

TEST_CASE("a segment of one mechanism is untouched by the other one's existence") {
    const RuleSet sum = site_rules("sum");
    const Plant plant = mixed_plant(sum);
    const Plant alone = assemble({.segments = {segment_cells("C", {})}}, published_rules());
    CHECK(number_of(plant, rank(plant, sum), "C", "risk") ==
          number_of(alone, rank(alone, published_rules()), "C", "risk"));
}

TEST_CASE("the forecast of such a segment has the wall of the one and the risk of both") {
    const RuleSet sum = site_rules("sum");
    const Plant plant = mixed_plant(sum);
    const std::vector<std::uint32_t> segments{1};
    const Forecast ahead = forecast(plant, sum, segments, 5);
    REQUIRE(ahead.curves.size() == 1);
    CHECK(ahead.curves[0].loses_wall);
    CHECK(ahead.curves[0].points[0].expected_wall_mm > 0.0);
    const Ranking ranking = rank(plant, sum);
    CHECK(ahead.curves[0].points[0].risk_per_year == number_of(plant, ranking, "A", "risk"));
}

}  // namespace
}  // namespace lagline
