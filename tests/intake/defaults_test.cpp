#include <doctest/doctest.h>

#include "intake/gaps.h"
#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

using S = SegmentField;

TEST_CASE("an empty cell is derived, else takes the plant's default, else that of the rules") {
    const auto loaded =
        load({{"plant.yaml",
               "name: x\ncurrency: USD\ndefaults: {driver: severe, coating_date: 2001-01-01}\n"}});
    REQUIRE(loaded.plant);
    const SegmentSheet& sheet = loaded.plant->segments;
    // Derived comes first: the plant's default of coating_date is not reached.
    CHECK(sheet.state(S::coating_date, 0) == CellState::derived);
    CHECK(sheet.days(S::coating_date)[0] == make_date(1994, 6, 1).days);
    CHECK(sheet.state(S::driver, 0) == CellState::plant_default);
    CHECK(sheet.codes(S::driver)[0] == code_of(published_rules(), "driver", "severe"));
    CHECK(sheet.state(S::complexity, 0) == CellState::rule_default);
    CHECK(sheet.codes(S::complexity)[0] == code_of(published_rules(), "complexity", "average"));
    // By a table of the rules that is named like the column.
    CHECK(sheet.state(S::yield_strength, 0) == CellState::rule_default);
    CHECK(sheet.state(S::fluid, 0) == CellState::absent);
    const std::vector<std::size_t> looked{index_of(S::driver), index_of(S::complexity)};
    const auto gaps = find_gaps(*loaded.plant, published_rules(), looked);
    REQUIRE(gaps.size() == 2);
    CHECK(gaps[0].count == 2);
    CHECK(gaps[0].taken == "severe");
    CHECK(gaps[1].taken == "average");
}

TEST_CASE("a given cell is never replaced by a default") {
    const auto loaded =
        load({{"segments.csv", segments("driver", "mild")},
              {"plant.yaml", "name: x\ncurrency: USD\ndefaults: {driver: severe}\n"}});
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.state(S::driver, 0) == CellState::given);
    CHECK(loaded.plant->segments.codes(S::driver)[0] ==
          code_of(published_rules(), "driver", "mild"));
}

TEST_CASE("money given for a leak leaves no gap in the consequence category") {
    const auto loaded = load({{"segments.csv", segments("leak_cost [USD]", "5000")}});
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.state(S::consequence_category, 0) == CellState::absent);
}

TEST_CASE("a default that cannot be read is told where it stands") {
    struct Case {
        std::string entry, problem, mend;
    };
    for (const Case& each :
         {Case{"driver: sever", "unknown-word plant.yaml:4:11 default of driver\n",
               "did you mean 'severe'?"},
          Case{"length: 12", "missing-unit plant.yaml:4:11 default of length\n",
               "write the unit behind the number"},
          Case{"length: -1 m", "out-of-range plant.yaml:4:11 default of length\n",
               "it cannot be negative"},
          Case{"lenght: 1 m", "unknown-key plant.yaml:4:3 defaults\n", "did you mean 'length'?"}}) {
        CAPTURE(each.entry);
        const auto loaded =
            load({{"plant.yaml", "name: x\ncurrency: USD\ndefaults:\n  " + each.entry + "\n"}});
        CHECK(summary(loaded.report) == each.problem);
        CHECK(holds(only(loaded).mend, each.mend));
    }
}

}  // namespace
}  // namespace lagline
