#include <doctest/doctest.h>

#include <cstdint>
#include <string>

#include "ranking/risk.h"
#include "support/rules.h"

namespace lagline {
namespace {

std::string band_of(double per_year, double usd) {
    const RuleSet& rules = published_rules();
    LikelihoodColumns likelihood;
    likelihood.resize({.wall_loss = 1, .cracking = 0}, false);
    likelihood.probability_of_failure_per_year[0] = per_year;
    ConsequenceColumns consequence;
    consequence.resize(1);
    consequence.leak_cost[0] = usd;
    consequence.consequence_category[0] =
        rules.band("consequence_category_of_cost").find(0, usd).code;
    RiskColumns risk;
    risk.resize(1);
    fill_risk(risk_rules(rules), likelihood, consequence, {0, 1}, risk);
    CHECK(risk.risk_per_year[0] == per_year * usd);
    return rules.vocabulary("probability_category").words[risk.probability_category[0]].key + " " +
           rules.vocabulary("consequence_category").words[consequence.consequence_category[0]].key +
           " " + rules.vocabulary("risk_category").words[risk.risk_category[0]].key;
}

TEST_CASE(
    "published point of the iso-risk example of API RP 581 (3rd ed.), Part 1: 5.00e-04 a year "
    "and 125 000 USD are Medium") {
    CHECK(band_of(5.00e-04, 125000.0) == "3 C medium");
}

TEST_CASE(
    "probability categories of API RP 581 (3rd ed.), Part 1, Table 4.1 (recalled), at limits") {
    struct Row {
        double per_year;
        const char* category;
    };
    for (const Row& row : {Row{0.0, "1"}, Row{3.06e-5, "1"}, Row{3.07e-5, "2"}, Row{3.06e-4, "2"},
                           Row{3.07e-4, "3"}, Row{3.06e-3, "3"}, Row{3.07e-3, "4"},
                           Row{3.06e-2, "4"}, Row{3.07e-2, "5"}, Row{1.0, "5"}}) {
        CAPTURE(row.per_year);
        CHECK(band_of(row.per_year, 1.0).substr(0, 1) == row.category);
    }
}

TEST_CASE("the risk matrix never falls as probability or consequence rises") {
    const RuleSet& rules = published_rules();
    const GridTable& matrix = rules.grid("risk_matrix");
    const auto rows =
        static_cast<std::uint8_t>(rules.vocabulary("probability_category").words.size());
    const auto columns =
        static_cast<std::uint8_t>(rules.vocabulary("consequence_category").words.size());
    // The words of risk_category stand in rising order: their codes can be compared.
    REQUIRE(code_of(rules, "risk_category", "low") < code_of(rules, "risk_category", "medium"));
    REQUIRE(code_of(rules, "risk_category", "medium") <
            code_of(rules, "risk_category", "medium_high"));
    REQUIRE(code_of(rules, "risk_category", "medium_high") <
            code_of(rules, "risk_category", "high"));
    for (std::uint8_t row = 0; row < rows; ++row) {
        for (std::uint8_t column = 0; column < columns; ++column) {
            CAPTURE(row);
            CAPTURE(column);
            const std::uint8_t here = matrix.at(row, column).code;
            if (row > 0) CHECK(here >= matrix.at(static_cast<std::uint8_t>(row - 1), column).code);
            if (column > 0) {
                CHECK(here >= matrix.at(row, static_cast<std::uint8_t>(column - 1)).code);
            }
        }
    }
    CHECK(matrix.at(0, 0).word == "low");
    CHECK(matrix.at(static_cast<std::uint8_t>(rows - 1), static_cast<std::uint8_t>(columns - 1))
              .word == "high");
}

}  // namespace
}  // namespace lagline
