#include <doctest/doctest.h>

#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

using S = SegmentField;

const std::string head = "segment,quantity,value,reason,who,when,until\n";

LoadedPlant with(const std::string& rows, LoadChoice choice = {}) {
    return load({{"overrides.csv", head + rows}}, choice);
}

TEST_CASE("an override in force replaces the value and keeps what stood there") {
    const auto loaded = with(
        "S-2,operating_temperature,95 degC,measured,A. Engineer,2020-02-01,\n"
        "S-1,insulation_condition,below_average,walk-down,A,2020-02-01,2030\n");
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    const Plant& plant = *loaded.plant;
    CHECK(plant.segments.numbers(S::operating_temperature)[0] == 82.0);
    CHECK(plant.segments.numbers(S::operating_temperature)[1] == 95.0);
    CHECK(plant.segments.state(S::operating_temperature, 1) == CellState::overridden);
    CHECK(plant.segments.codes(S::insulation_condition)[0] ==
          code_of(published_rules(), "insulation_condition", "below_average"));
    REQUIRE(plant.applied_overrides.size() == 2);  // by segment row
    CHECK(plant.applied_overrides[0].segment_row == 0);
    CHECK(plant.applied_overrides[0].override_row == 1);
    CHECK(plant.applied_overrides[0].replaced.empty());
    CHECK(plant.applied_overrides[1].replaced == "82");
}

TEST_CASE("an override holds from `when` to `until`, both days included") {
    const std::string row = "S-1,length,7 m,why,who,2025-01-02,2025-03-01\n";
    const auto length = [&](Date at) {
        const auto loaded = with(row, {.at = at});
        REQUIRE(loaded.plant);
        return loaded.plant->segments.state(S::length, 0) == CellState::overridden;
    };
    CHECK_FALSE(length(make_date(2025, 1, 1)));
    CHECK(length(make_date(2025, 1, 2)));
    CHECK(length(make_date(2025, 3, 1)));
    const auto expired = with(row, {.at = make_date(2025, 3, 2)});
    REQUIRE(expired.plant);
    CHECK(summary(expired.report) == "expired-override overrides.csv:2:35 until\n");
    CHECK(only(expired).severity == Severity::warning);
    CHECK(holds(only(expired).found, "ran out on 2025-03-01"));
    CHECK(expired.plant->applied_overrides.empty());
}

TEST_CASE("overrides that cannot be applied, each at its cell") {
    struct Case {
        std::string row, problem, mend;
    };
    for (const Case& each :
         {Case{"S-3,length,7 m,why,who,2020-01-01,\n",
               "unknown-segment overrides.csv:2:1 segment\n", "correct the name"},
          Case{"S-1,lenght,7 m,why,who,2020-01-01,\n",
               "unknown-column overrides.csv:2:5 quantity\n", "did you mean 'length'?"},
          Case{"S-1,segment,S-7,why,who,2020-01-01,\n",
               "unknown-column overrides.csv:2:5 quantity\n", "correct the name"},
          Case{"S-1,length,7,why,who,2020-01-01,\n", "missing-unit overrides.csv:2:12 value\n",
               "write the unit behind the number"},
          Case{"S-1,length,7 degC,why,who,2020-01-01,\n",
               "unit-mismatch overrides.csv:2:12 value\n", "correct the unit"},
          Case{"S-1,length,-7 m,why,who,2020-01-01,\n", "out-of-range overrides.csv:2:12 value\n",
               "it cannot be negative"},
          Case{"S-1,driver,sever,why,who,2020-01-01,\n", "unknown-word overrides.csv:2:12 value\n",
               "did you mean 'severe'?"},
          Case{"S-1,length,7 m,,who,2020-01-01,\n", "missing-value overrides.csv:2:16 reason\n",
               "fill the cell"},
          Case{"S-1,length,7 m,why,who,2020-01-02,2020-01-01\n",
               "contradiction overrides.csv:2:35 until\n", "correct one of the days"},
          Case{"S-1,length,7 m,why,who,2020-01-01,\nS-1,length,8 m,why,who,2021-01-01,\n",
               "duplicate-key overrides.csv:3:5 quantity\n", "remove the older one"}}) {
        CAPTURE(each.row);
        const auto loaded = with(each.row);
        CHECK(summary(loaded.report) == each.problem);
        CHECK(holds(only(loaded).mend, each.mend));
        CHECK_FALSE(loaded.plant);
    }
}

}  // namespace
}  // namespace lagline
