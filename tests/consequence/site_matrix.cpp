#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "ranking/matrix.h"
#include "ranking/ranking.h"
#include "support/rules.h"
#include "support/small_plant.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

RuleSet with_site(const std::string& changes) {
    const TempFolder folder;
    folder.write("site.yaml",
                 "ruleset: {name: site, meaning: an invented plant, based_on: published}\n"
                 "changes:\n" +
                     changes);
    LoadedRules loaded = load_rules(rules_root(), "published", folder.path());
    if (!loaded.rules) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.rules);
}

struct Place3 {
    std::string probability, consequence, band;
    friend bool operator==(const Place3&, const Place3&) = default;
};

Place3 placed(const RuleSet& rules, const Cells& cells) {
    const Plant plant = assemble({.segments = {segment_cells("S-1", cells)}}, rules);
    const Ranking ranking = rank(plant, rules);
    return {
        rules.vocabulary("probability_category").words[ranking.risk.probability_category[0]].key,
        rules.vocabulary("consequence_category")
            .words[ranking.consequence.consequence_category[0]]
            .key,
        rules.vocabulary("risk_category").words[ranking.risk.risk_category[0]].key};
}

const Cells priced{{"consequence_category", ""}, {"leak_cost", "125000 USD"}};

TEST_CASE("a site's overlay moves a cell of the matrix, and no other") {
    const Place3 before = placed(published_rules(), priced);
    REQUIRE(before.consequence == "C");
    const std::string to = before.band == "high" ? "low" : "high";
    const RuleSet site =
        with_site("  - {table: risk_matrix, entry: {probability_category: \"" + before.probability +
                  "\", consequence_category: C}, to: " + to + ", reason: invented}\n");
    const Place3 after = placed(site, priced);
    CHECK(after == Place3{before.probability, "C", to});
    const GridTable& old_matrix = published_rules().grid("risk_matrix");
    const GridTable& new_matrix = site.grid("risk_matrix");
    int differ = 0;
    for (std::size_t i = 0; i < old_matrix.entries.size(); ++i) {
        differ += old_matrix.entries[i].word != new_matrix.entries[i].word ? 1 : 0;
    }
    CHECK(differ == 1);
}

TEST_CASE("a site's overlay moves the limits of both categories, and the matrix shows them") {
    const std::string limits = R"(  - table: consequence_category_of_cost
    reason: money of this site
    replace:
      kind: bands
      meaning: "limits of the site"
      axis: {quantity: leak_cost, unit: USD}
      gives: consequence_category
      bands:
        - {upto: 50000, is: A}
        - {upto: 200000, is: B}
        - {upto: 2000000, is: C}
        - {upto: 20000000, is: D}
        - {above: true, is: E}
  - table: probability_category
    reason: frequencies of this site
    replace:
      kind: bands
      meaning: "limits of the site"
      axis: {quantity: probability_of_failure, unit: 1/y}
      gives: probability_category
      bands:
        - {upto: 1e-12, is: "1"}
        - {upto: 2e-12, is: "2"}
        - {upto: 3e-12, is: "3"}
        - {upto: 4e-12, is: "4"}
        - {above: true, is: "5"}
)";
    const RuleSet site = with_site(limits);
    const Place3 after = placed(site, priced);
    CHECK(after.probability == "5");
    CHECK(after.consequence == "B");
    SmallPlant small{.segments = {segment_cells("S-1", priced)}};
    small.description.currency = "EUR";
    small.description.exchange["USD"] = 0.5;  // invented
    const Plant plant = assemble(small, site);
    const Ranking ranking = rank(plant, site);
    const RiskMatrix matrix = risk_matrix(plant, site, ranking);
    CHECK(matrix.costs[0].to == 25000.0);
    CHECK(matrix.costs[1].from == 25000.0);
    CHECK(matrix.costs[1].to == 100000.0);
    CHECK(matrix.probabilities[3].to == 4e-12);
    CHECK(matrix.probabilities[4].from == 4e-12);
    CHECK(matrix.cell(4, 1).rows.size() == 1);
}

TEST_CASE(
    "published point of the iso-risk example of API RP 581 (3rd ed.), Part 1, through the whole "
    "method: 125 000 USD at 5.00e-04 a year is Medium") {
    // The fall of the coating date to which the probability comes to 5.00e-04, found by trying.
    double nearest = 1.0;
    std::string band;
    for (int year = 1995; year <= 2024; ++year) {
        for (int month = 1; month <= 12; ++month) {
            Cells cells = priced;
            cells["in_service"] =
                std::to_string(year) + (month < 10 ? "-0" : "-") + std::to_string(month) + "-01";
            cells["coating_date"] = cells["in_service"];
            cells["coating_quality"] = "none";
            const Plant plant =
                assemble({.segments = {segment_cells("S-1", cells)}}, published_rules());
            const Ranking ranking = rank(plant, published_rules());
            const double off =
                std::abs(ranking.likelihood.probability_of_failure_per_year[0] / 5.00e-4 - 1.0);
            if (off > nearest) continue;
            nearest = off;
            band = published_rules()
                       .vocabulary("risk_category")
                       .words[ranking.risk.risk_category[0]]
                       .key;
        }
    }
    CHECK(nearest < 0.1);
    CHECK(band == "medium");
}

}  // namespace
}  // namespace lagline
