#include <doctest/doctest.h>

#include <algorithm>

#include "planning/cautions.h"
#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

struct Asked {
    Cells cells = {};
    WorkAction action = WorkAction::strip_recoat;
    WorkState state = WorkState::shutdown;
    std::optional<double> expected_mm = 6.0;
    double minimum_mm = 3.0;
    const RuleSet& rules = extended_rules();
};

std::uint32_t asked(const Asked& by) {
    const RecoatPlant on{{.cells = by.cells, .rules = by.rules}};
    WorkOnSegment work{by.action, by.state, by.expected_mm, by.minimum_mm};
    return cautions(on.plant, caution_rules(by.rules), 0, work);
}

bool told(Caution caution, const Asked& by) { return holds(asked(by), caution); }

TEST_CASE("asbestos: named, possible by the year, or by the year of the pipe where none is known") {
    CHECK(told(Caution::asbestos, {.cells = {{"insulation_type", "asbestos"}}}));
    const auto of_year = [](const char* day) {
        return told(Caution::asbestos_possible, {.cells = {{"insulation_installed", day}}});
    };
    CHECK(of_year("1999-12-31"));
    CHECK_FALSE(of_year("2000-01-01"));
    const Cells old_pipe{{"in_service", "1985-01-01"}, {"coating_date", "2010-01-01"}};
    CHECK(told(Caution::asbestos_possible, {.cells = old_pipe}));
    CHECK_FALSE(told(Caution::asbestos_possible, {.cells = {{"in_service", "2005-01-01"}}}));
    Cells both = old_pipe;
    both["insulation_type"] = "asbestos";
    CHECK_FALSE(told(Caution::asbestos_possible, {.cells = both}));
}

TEST_CASE("lead by the day of the coating; bare steel has none") {
    const Cells old{{"in_service", "1980-01-01"}, {"coating_date", "1994-12-31"}};
    CHECK(told(Caution::lead_in_paint, {.cells = old}));
    CHECK_FALSE(told(Caution::lead_in_paint,
                     {.cells = {{"coating_date", "1995-01-01"}, {"in_service", "1980-01-01"}}}));
    Cells bare = old;
    bare["coating_system"] = "none";
    CHECK_FALSE(told(Caution::lead_in_paint, {.cells = bare}));
}

TEST_CASE("stainless steel: zinc beside it, chloride in what is put on it") {
    const Cells steel{{"material", "austenitic_stainless"}};
    CHECK(told(Caution::chloride_in_coating, {.cells = steel}));
    CHECK(told(Caution::chloride_in_insulation, {.cells = steel}));
    CHECK_FALSE(told(Caution::zinc_on_stainless, {.cells = steel}));
    for (const auto& [column, word] :
         {std::pair{"jacket", "galvanised_steel"}, {"coating_system", "inorganic_zinc"}}) {
        Cells zinc = steel;
        zinc[column] = word;
        CHECK(told(Caution::zinc_on_stainless, {.cells = zinc}));
        zinc["material"] = "duplex_stainless";
        CHECK(told(Caution::zinc_on_stainless, {.cells = zinc}));
        zinc["material"] = "carbon_steel";
        CHECK_FALSE(told(Caution::zinc_on_stainless, {.cells = zinc}));
    }
    CHECK_FALSE(told(Caution::chloride_in_coating, {}));
    CHECK_FALSE(told(Caution::chloride_in_insulation, {}));
    CHECK_FALSE(told(Caution::chloride_in_coating,
                     {.cells = steel, .action = WorkAction::renew_insulation}));
    CHECK_FALSE(told(Caution::chloride_in_insulation,
                     {.cells = steel, .action = WorkAction::remove_insulation}));
}

TEST_CASE("thin wall: expected below 1.25 of the minimum") {
    CHECK(told(Caution::thin_wall, {.expected_mm = 3.7}));
    CHECK_FALSE(told(Caution::thin_wall, {.expected_mm = 3.75}));
    CHECK(told(Caution::wall_unknown, {.expected_mm = std::nullopt}));
    CHECK_FALSE(told(Caution::wall_unknown, {}));
    CHECK_FALSE(told(Caution::wall_unknown,
                     {.cells = {{"material", "austenitic_stainless"}}, .expected_mm = {}}));
}

TEST_CASE("hot metal on stream above the touch limit") {
    Asked by{.cells = held_at_degc(61), .state = WorkState::on_stream};
    CHECK(told(Caution::hot_metal, by));
    by.state = WorkState::shutdown;
    CHECK_FALSE(told(Caution::hot_metal, by));
    CHECK_FALSE(
        told(Caution::hot_metal, {.cells = held_at_degc(60), .state = WorkState::on_stream}));
}

TEST_CASE("service: flammable work is hot work, an unknown fluid is taken for the worst") {
    const auto fluid = [](const char* word) { return Cells{{"fluid_class", word}}; };
    CHECK(told(Caution::hot_work_flammable, {.cells = fluid("light_hydrocarbon")}));
    CHECK(told(Caution::service_hazard, {.cells = fluid("light_hydrocarbon")}));
    CHECK_FALSE(told(Caution::hot_work_flammable, {.cells = fluid("light_hydrocarbon"),
                                                   .action = WorkAction::renew_insulation}));
    CHECK(told(Caution::service_hazard, {.cells = fluid("toxic")}));
    CHECK_FALSE(told(Caution::hot_work_flammable, {.cells = fluid("toxic")}));
    CHECK_FALSE(told(Caution::service_hazard, {.cells = fluid("water")}));
    CHECK_FALSE(told(Caution::fluid_unknown, {.cells = fluid("water")}));
    CHECK(told(Caution::fluid_unknown, {}));
}

TEST_CASE("screening from outside touches nothing") {
    CHECK(asked({.cells = {{"insulation_type", "asbestos"}}, .action = WorkAction::screen}) == 0);
}

TEST_CASE("both rule sets tell the same cautions") {
    const Cells cells{{"material", "austenitic_stainless"},
                      {"in_service", "1985-01-01"},
                      {"coating_date", "1985-01-01"},
                      {"fluid_class", "flammable_liquid"},
                      {"jacket", "galvanised_steel"}};
    const std::uint32_t extended = asked({.cells = cells});
    CHECK(extended == asked({.cells = cells, .rules = published_rules()}));
    CHECK(extended != 0);
}

TEST_CASE("lines say the words of the rules and what calls for them") {
    const Cells cells{{"in_service", "1985-01-01"},
                      {"coating_date", "1985-01-01"},
                      {"insulation_installed", "1985-06-01"},
                      {"fluid_class", "toxic"}};
    const RecoatPlant on{{.cells = cells}};
    const WorkOnSegment work{WorkAction::strip_recoat, WorkState::on_stream, 3.1, 3.0};
    const std::uint32_t set = cautions(on.plant, caution_rules(on.rules), 0, work);
    const auto lines = caution_lines(on.plant, on.rules, 0, work, set);
    std::string all;
    for (const std::string& line : lines) {
        CHECK(line.ends_with('.'));
        all += line + "\n";
    }
    CHECK(static_cast<std::size_t>(std::ranges::count(all, '\n')) == lines.size());
    for (const char* part :
         {"have it surveyed before it is touched (insulation dated 1985-06-01).",
          "The paint may contain lead", "coating dated 1985-01-01", "expected 3.1 mm, minimum 3 mm",
          "operating at 70 degC", "toxic: a release can poison"}) {
        CAPTURE(part);
        CHECK(all.find(part) != std::string::npos);
    }
}

}  // namespace
}  // namespace lagline
