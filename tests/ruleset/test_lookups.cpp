#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "quantity/unit.h"
#include "rule_folder.h"

namespace lagline {
namespace {

double degc(double degf) {
    return convert(degf, *parse_unit("degF", Dimension::temperature),
                   base_unit(Dimension::temperature));
}

RuleSet small_rules() {
    const RuleFolder folder;
    auto loaded = load_tables(folder, small_tables);
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    return std::move(*loaded.rules);
}

constexpr double mm_per_mil = 0.0254;

TEST_CASE("a curve gives the printed value at a point and a straight line between") {
    const auto rules = small_rules();
    const auto& rate = rules.curve("rate");
    const auto at_point = rate.find(0, degc(50));
    CHECK(at_point.value == rate.entries[1].value);  // the same bits
    CHECK(at_point.value == doctest::Approx(10 * mm_per_mil).epsilon(1e-15));
    CHECK(rate.entries[at_point.entry].printed == 10.0);
    CHECK(at_point.entry == at_point.entry_to);
    CHECK(rate.entries[at_point.entry].key == "red at 50 degF");

    const auto between = rate.find(1, degc(75));  // 5 + (7 - 5) * 25 / 100
    CHECK(between.value == doctest::Approx(5.5 * mm_per_mil).epsilon(1e-14));
    CHECK(rate.entries[between.entry].key == "green at 50 degF");
    CHECK(rate.entries[between.entry_to].key == "green at 150 degF");
    CHECK_FALSE(between.outside());

    // A flat curve stays flat to the last bit.
    CHECK(rate.find(2, degc(77.7)).value == rate.entries[6].value);
}

TEST_CASE("a curve outside its range does what each side says, and says so") {
    const auto rules = small_rules();
    const auto& rate = rules.curve("rate");
    const auto below = rate.find(2, degc(9.9));
    CHECK(below.below);
    CHECK_FALSE(below.above);
    CHECK(below.value == 0.0);
    const auto above = rate.find(0, degc(151));
    CHECK(above.above);
    CHECK(above.value == rate.entries[2].value);
    CHECK_FALSE(rate.find(0, degc(10)).outside());
    CHECK_FALSE(rate.find(0, degc(150)).outside());
    CHECK(rate.find(0, std::numeric_limits<double>::infinity()).above);
    CHECK(std::isnan(rate.find(0, std::numeric_limits<double>::quiet_NaN()).value));
}

TEST_CASE("a refused argument gives no number") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(tables:
  rate:
    kind: curves
    meaning: m
    axis: {quantity: metal_temperature, unit: degC}
    unit: mm/y
    points: [{at: 0, is: 1}, {at: 10, is: 2}]
    valid: [2, 8]
    basis: site
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& rate = loaded.rules->curve("rate");
    CHECK(std::isnan(rate.find(0, 1).value));
    CHECK(rate.find(0, 1).below);
    CHECK(std::isnan(rate.find(0, 9).value));
    CHECK(rate.find(0, 2).value == doctest::Approx(1.2).epsilon(1e-15));
    CHECK(rate.entries[1].key == "at 10 degC");
}

TEST_CASE("a band holds its inclusive end and not its exclusive one") {
    const auto rules = small_rules();
    const auto& mark = rules.band("mark");
    const auto word = [&](std::uint8_t by, double at) {
        return mark.entries[mark.find(by, at).entry].word;
    };
    CHECK(word(0, 0.5) == "bad");
    CHECK(word(0, std::nextafter(0.5, 1.0)) == "good");
    CHECK(word(1, std::nextafter(0.2, 0.0)) == "bad");
    CHECK(word(1, 0.2) == "good");
    CHECK(word(1, 1e9) == "good");
    CHECK(word(2, -3) == "bad");
    CHECK(mark.find(0, 0.7).code == 0);
    CHECK(mark.find(0, 0.3).code == 1);
    CHECK_FALSE(mark.find(0, 1.0).outside());
    CHECK(mark.find(0, std::nextafter(1.0, 2.0)).above);  // red ends at 100 %; refuse
    CHECK_FALSE(mark.find(1, 1.1).outside());             // green does not end
    CHECK(mark.entries[0].key == "red, up to 50 %");
    CHECK(mark.entries[2].key == "green, below 20 %");
    CHECK(mark.entries[3].key == "green, from 20 %");
    CHECK(mark.entries[4].key == "blue, everywhere");
}

TEST_CASE("bands by nominal size run along NPS inches, also when written as DN") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(words: {hole: {small: s, large: l}}
tables:
  thickness:
    kind: bands
    meaning: m
    axis: {quantity: nominal_size, unit: NPS}
    unit: in
    bands: [{upto: 1 1/2, is: 0.07}, {upto: 6, is: 0.11}, {above: true, is: 0.12}]
    basis: site
  frequency:
    kind: bands
    meaning: m
    columns: hole
    axis: {quantity: nominal_size, unit: DN}
    unit: 1/y
    bands: [{upto: 50, small: 1e-5, large: 2e-5}, {upto: 150, small: 3e-5, large: 4e-5}]
    outside: {above: clamp}
    basis: site
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& thickness = loaded.rules->band("thickness");
    CHECK(thickness.find(0, 1.5).value == doctest::Approx(0.07 * 25.4).epsilon(1e-15));
    CHECK(thickness.find(0, 2).value == doctest::Approx(0.11 * 25.4).epsilon(1e-15));
    CHECK(thickness.find(0, 24).value == doctest::Approx(0.12 * 25.4).epsilon(1e-15));
    CHECK(thickness.entries[1].printed == 0.11);
    CHECK(thickness.entries[0].key == "up to NPS 1.5");
    CHECK(thickness.entries[2].key == "above NPS 6");
    const auto& frequency = loaded.rules->band("frequency");
    CHECK(frequency.find(0, 2, 1).value == 2e-5);  // DN 50 is NPS 2
    CHECK(frequency.find(0, 3, 0).value == 3e-5);
    CHECK(frequency.find(0, 6, 1).value == 4e-5);
    CHECK(frequency.find(0, 8, 1).value == 4e-5);
    CHECK(frequency.find(0, 8, 1).above);
    CHECK(frequency.entries[1].key == "up to DN 50, large");
}

TEST_CASE("an inclusive end after an exclusive one at the same place is a band of one point") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(tables:
  t:
    kind: bands
    meaning: m
    axis: {quantity: coverage, unit: "%"}
    unit: "-"
    bands: [{below: 100, is: 1}, {upto: 100, is: 2}]
    basis: site
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& table = loaded.rules->band("t");
    CHECK(table.find(0, 0.999).value == 1.0);
    CHECK(table.find(0, 1.0).value == 2.0);
}

TEST_CASE("a site factor falls back on `otherwise`") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(site_factors:
  tower: {column: tower_zone, meaning: m, entries: {A: 1.3, B: {value: 1.1, note: n}}, otherwise: 1, basis: site}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& tower = loaded.rules->site_factors.at("tower");
    CHECK(tower.info.by == "tower_zone");
    CHECK(tower.find("A").value == 1.3);
    CHECK(tower.find(" B ").note == "n");
    CHECK(tower.find("C").value == 1.0);
    CHECK(tower.find("").key == "otherwise");
}

}  // namespace
}  // namespace lagline
