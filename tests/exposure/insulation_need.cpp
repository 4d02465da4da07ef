#include <doctest/doctest.h>

#include <string>

#include "extended/made_plant.h"

namespace lagline {
namespace {

std::string need_of(const RowCells& changes) {
    const RuleSet& rules = shipped_extended();
    PlantDescription description;
    description.climate = even_climate(12.0, 75.0, 300.0);  // dew point 7.7 degC
    const Plant plant =
        read_made({.segments = {made_segment("S-1", changes)}, .description = description}, rules);
    const Ranking ranking = rank(plant, rules);
    return rules.vocabulary("insulation_need").words[ranking.exposure.insulation_need[0]].key;
}

RowCells at(const char* degc, const char* purpose) {
    return {{"operating_temperature", degc}, {"insulation_purpose", purpose}};
}

TEST_CASE("insulation need: by purpose, dew point and touch limit of 60 degC") {
    CHECK(need_of(at("40 degC", "process")) == "as_stated");
    CHECK(need_of(at("40 degC", "fire")) == "as_stated");
    CHECK(need_of(at("2 degC", "")) == "condensation");
    CHECK(need_of(at("2 degC", "none")) == "condensation");
    CHECK(need_of(at("40 degC", "")) == "none");
    CHECK(need_of(at("60 degC", "")) == "none");
    CHECK(need_of(at("61 degC", "")) == "personnel_protection");
    CHECK(need_of(at("180 degC", "heat_conservation")) == "heat_conservation");
    CHECK(need_of(at("40 degC", "heat_conservation")) == "none");  // no heat to keep
}

TEST_CASE("insulation need: the cycle counts, not the operating temperature alone") {
    CHECK(need_of({{"operating_temperature", "90 degC"},
                   {"service", "cyclic"},
                   {"temperature_low", "-5 degC"},
                   {"temperature_high", "90 degC"},
                   {"hot_fraction", "0.5"},
                   {"cycles_per_year", "12 1/y"}}) == "condensation");
}

}  // namespace
}  // namespace lagline
