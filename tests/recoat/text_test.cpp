#include <doctest/doctest.h>

#include <sstream>

#include "diagnostics/text.h"
#include "recoat/recoat_plant.h"
#include "report/recoat_text.h"

namespace lagline {
namespace {

std::string page(const RecoatPlant& on) {
    return recoat_text(on.plant, on.rules, recoat_sheet(on.plant, on.rules, on.ranking, 0),
                       {.width = 80, .colour = false});
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

TEST_CASE("months as letters") {
    CHECK(months_text(0) == "............");
    CHECK(months_text(every_month) == "JFMAMJJASOND");
    CHECK(months_text(0b000111111000) == "...AMJJAS...");
}

TEST_CASE("the page tells systems, refusals, quantities and cautions within 80 columns") {
    const RecoatPlant on{{.cells = held_at_degc(70)}};
    const std::string text = page(on);
    std::istringstream lines{text};
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(display_width(line) <= 80);
    }
    for (const char* part :
         {"New coating for S-1", "In a shutdown", "On stream", "sprayed_aluminium", "Refused",
          "inorganic_zinc: zinc is spent fast", "Take-off with 1", "12 m (assumed)", "Cautions",
          "JFMAMJJASOND", "mean time to breakdown", "No systems to ask for: none,"}) {
        CAPTURE(part);
        CHECK(has(text, part));
    }
}

TEST_CASE("the page says what it does not know") {
    const RecoatPlant dark{{.cells = held_at_degc(70), .climate = std::nullopt}};
    CHECK(has(page(dark), "not known"));
    CHECK(has(page(dark), "gives no climate"));
    const RecoatPlant published{{.cells = held_at_degc(70), .rules = published_rules()}};
    CHECK(has(page(published), "years of credit by the quality class"));
}

TEST_CASE("nothing allowed leaves no material in the take-off") {
    const RecoatPlant on{{.cells = held_at_degc(70), .climate = months_of(5.0, 99.0)}};
    const RecoatSheet sheet = recoat_sheet(on.plant, on.rules, on.ranking, 0);
    CHECK(sheet.shutdown.allowed() == 0);
    CHECK(sheet.shutdown.take_off.coated_m2 == 0.0);
    CHECK(sheet.shutdown.take_off.stripped_m > 0.0);
}

TEST_CASE("the wall of the cautions is that of the ranking") {
    const RecoatPlant on{{.cells = held_at_degc(70)}};
    const RecoatSheet sheet = recoat_sheet(on.plant, on.rules, on.ranking, 0);
    CHECK(sheet.work.expected_wall_mm == on.ranking.likelihood.expected_wall_mm[0]);
    CHECK(sheet.work.minimum_wall_mm == on.ranking.likelihood.minimum_thickness_mm[0]);
    const RecoatPlant steel{{.cells = {{"material", "austenitic_stainless"}}}};
    CHECK_FALSE(
        recoat_sheet(steel.plant, steel.rules, steel.ranking, 0).work.expected_wall_mm.has_value());
}

}  // namespace
}  // namespace lagline
