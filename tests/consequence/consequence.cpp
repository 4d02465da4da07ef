#include "consequence/consequence.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>
#include <vector>

#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

struct Found {
    std::string category;
    double cost = 0.0;
};

Found found(const Cells& cells, const PlantDescription& description = {}) {
    const RuleSet& rules = published_rules();
    const Plant plant =
        assemble({.segments = {segment_cells("S-1", cells)}, .description = description}, rules);
    ConsequenceColumns columns;
    columns.resize(1, false);
    const std::vector<std::uint32_t> rows{0};
    fill_consequence(plant, consequence_rules(rules, plant), rows, {0, 1}, columns);
    return {rules.vocabulary("consequence_category").words[columns.consequence_category[0]].key,
            columns.leak_cost[0]};
}

TEST_CASE("category given: the money is what stands for it") {
    const Found got = found({{"consequence_category", "B"}});
    CHECK(got.category == "B");
    CHECK(got.cost == 100000.0);
}

TEST_CASE(
    "money given: the category is that of API RP 581 (3rd ed.), Part 1, Table 4.2 (recalled)") {
    struct Row {
        const char *cost, *category;
        double usd;
    };
    for (const Row& row :
         {Row{"0 USD", "A", 0.0}, Row{"10000 USD", "A", 1e4}, Row{"10001 USD", "B", 10001.0},
          Row{"100000 USD", "B", 1e5}, Row{"125000 USD", "C", 125000.0},
          Row{"1000000 USD", "C", 1e6}, Row{"1000001 USD", "D", 1000001.0},
          Row{"10000000 USD", "D", 1e7}, Row{"10000001 USD", "E", 10000001.0}}) {
        CAPTURE(std::string{row.cost});
        const Found got = found({{"consequence_category", ""}, {"leak_cost", row.cost}});
        CHECK(got.category == row.category);
        CHECK(got.cost == row.usd);
    }
}

TEST_CASE("both given: each is taken as given, even when they do not fit") {
    const Found got = found({{"consequence_category", "A"}, {"leak_cost", "5000000 USD"}});
    CHECK(got.category == "A");
    CHECK(got.cost == 5e6);
}

TEST_CASE("neither given: the default category of the rule set, and its money") {
    const Found got = found({{"consequence_category", ""}});
    CHECK(got.category == "C");
    CHECK(got.cost == 1e6);
}

TEST_CASE("a plant in another currency: limits and money of the rules are exchanged") {
    PlantDescription euro;
    euro.currency = "EUR";
    euro.exchange["USD"] = 0.8;  // invented: one USD costs 0.80 EUR
    CHECK(found({{"consequence_category", "B"}}, euro).cost == 80000.0);
    // 80 000 EUR are the 100 000 USD up to which category B goes.
    const Cells at_limit{{"consequence_category", ""}, {"leak_cost", "80000 EUR"}};
    CHECK(found(at_limit, euro).category == "B");
    CHECK(found(at_limit, euro).cost == 80000.0);
    const Cells beyond{{"consequence_category", ""}, {"leak_cost", "80001 EUR"}};
    CHECK(found(beyond, euro).category == "C");
    const Cells in_dollars{{"consequence_category", ""}, {"leak_cost", "125000 USD"}};
    CHECK(found(in_dollars, euro).category == "C");
    CHECK(found(in_dollars, euro).cost == 100000.0);
}

TEST_CASE("a plant in another currency without the price of a dollar is refused") {
    PlantDescription euro;
    euro.currency = "EUR";
    CHECK_THROWS_WITH(found({}, euro), doctest::Contains("no price of one USD in EUR"));
}

}  // namespace
}  // namespace lagline
