// What a ranking by one operating temperature and years of coating credit cannot see.
#include <doctest/doctest.h>

#include "extended/made_plant.h"

namespace lagline {
namespace {

const RuleSet& rules() { return shipped_extended(); }

TEST_CASE("must show 1: swinging through the band ranks above standing at either end of it") {
    // -20 and 200 degC both lie outside Table 16.2 (10 to 350 degF).
    const RowCells swings{{"operating_temperature", "200 degC"},
                          {"service", "cyclic"},
                          {"temperature_low", "-20 degC"},
                          {"temperature_high", "200 degC"},
                          {"hot_fraction", "0.5"},
                          {"cycles_per_year", "730 1/y"}};
    // The names would put the swinging line last among equals.
    const Plant plant =
        read_made({.segments = {made_segment("A-cold", {{"operating_temperature", "-20 degC"}}),
                                made_segment("B-hot", {{"operating_temperature", "200 degC"}}),
                                made_segment("C-swings", swings)}},
                  rules());
    const Ranking ranking = rank(plant, rules());
    CHECK(rank_of(plant, ranking, "C-swings") == 1);
    const auto risk = [&](const char* name) {
        return ranking.risk.risk_per_year[row_of(plant, ranking, name)];
    };
    CHECK(risk("C-swings") > 10.0 * risk("A-cold"));
    CHECK(risk("C-swings") > 10.0 * risk("B-hot"));
    const auto rate = [&](const char* name) {
        return ranking.wall_loss.base_rate_mm_per_year[row_of(plant, ranking, name)];
    };
    CHECK(rate("A-cold") == 0.0);
    CHECK(rate("B-hot") == 0.0);
    CHECK(rate("C-swings") > 0.01);
    // The published set sees three lines that do not corrode.
    const Plant seen =
        read_made({.segments = {made_segment("B-hot", {{"operating_temperature", "200 degC"}}),
                                made_segment("C-swings", swings)}},
                  shipped_published());
    const Ranking published = rank(seen, shipped_published());
    CHECK(published.wall_loss.base_rate_mm_per_year[0] == 0.0);
    CHECK(published.wall_loss.base_rate_mm_per_year[1] == 0.0);
}

RowCells coated(const char* film, const char* degc, const char* service) {
    return {{"coating_system", "epoxy_phenolic"},
            {"coating_date", "2015-01-01"},
            {"in_service", "2015-01-01"},
            {"coating_thickness", film},
            {"operating_temperature", degc},
            {"service", service},
            {"hot_fraction", service[0] == 'i' ? "0.6" : ""}};
}

double risk_of(const char* film, const char* degc, const char* service) {
    const Plant plant =
        read_made({.segments = {made_segment("S-1", coated(film, degc, service))}}, rules());
    return rank(plant, rules()).risk.risk_per_year[0];
}

TEST_CASE("must show 2: at 180 degC 450 um of a rigid film rank above 250 um, at 110 degC not") {
    // Held at 180 degC the published rate is 0 and no film matters.  These lines stand at the air,
    // 15 degC, for 40 % of the year; the film has cracked in the heat, and the steel corrodes
    // while it is cold.
    const Plant plant = read_made(
        {.segments = {made_segment("A-thin", coated("250 um", "180 degC", "intermittent")),
                      made_segment("B-thick", coated("450 um", "180 degC", "intermittent"))}},
        rules());
    const Ranking ranking = rank(plant, rules());
    CHECK(rank_of(plant, ranking, "B-thick") == 1);
    CHECK(risk_of("450 um", "180 degC", "intermittent") >
          risk_of("250 um", "180 degC", "intermittent"));
    for (const char* service : {"intermittent", "continuous"}) {
        CAPTURE(service);
        CHECK(risk_of("450 um", "110 degC", service) == risk_of("250 um", "110 degC", service));
    }
    // And held at 180 degC both are equal, for the rate is 0.
    CHECK(risk_of("450 um", "180 degC", "continuous") ==
          risk_of("250 um", "180 degC", "continuous"));
    // The published set does not look at the film at all.
    const std::vector<RowCells> pair{
        made_segment("A-thin", coated("250 um", "180 degC", "intermittent")),
        made_segment("B-thick", coated("450 um", "180 degC", "intermittent"))};
    const Plant seen = read_made({.segments = pair}, shipped_published());
    const Ranking published = rank(seen, shipped_published());
    CHECK(published.risk.risk_per_year[0] == published.risk.risk_per_year[1]);
}

}  // namespace
}  // namespace lagline
