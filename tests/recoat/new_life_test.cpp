#include <doctest/doctest.h>

#include <cmath>

#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

// The same coating once as new_life() sees it ahead, and once on record: applied in 2019, long
// after the start of service, over dry insulation, without a month that would count against it.
double ranked_scale_years(const char* system, const char* preparation, double film_um,
                          const Cells& service) {
    Cells cells = service;
    cells["coating_system"] = system;
    cells["coating_substrate_prep"] = preparation;
    cells["coating_thickness"] = std::to_string(film_um) + " um";
    cells["coating_date"] = "2019";
    const RecoatPlant plant{{.cells = cells}};
    return plant.ranking.coating.scale_years[0];
}

TEST_CASE("a new coating lives as the ranking will see it once it is on record") {
    struct Case {
        const char* system;
        const char* preparation;
        Cells service;
    };
    Cells cyclic = held_at_degc(140);
    cyclic["service"] = "cyclic";
    cyclic["temperature_low"] = "30 degC";
    cyclic["temperature_high"] = "140 degC";
    cyclic["hot_fraction"] = "0.5";
    cyclic["cycles_per_year"] = "100 1/y";
    for (const Case& each : {Case{"epoxy", "sp11_bare_metal_power_tool", held_at_degc(60)},
                             Case{"epoxy_phenolic", "sp10_near_white_blast", held_at_degc(110)},
                             Case{"epoxy_novolac", "sp10_near_white_blast", held_at_degc(180)},
                             Case{"epoxy_novolac", "sp11_bare_metal_power_tool", cyclic},
                             Case{"sprayed_aluminium", "sp5_white_blast", held_at_degc(300)},
                             Case{"petrolatum_tape", "sp2_hand_tool", held_at_degc(30)}}) {
        CAPTURE(each.system);
        const RecoatPlant plant{{.cells = each.service}};
        const NewLife life = plant.new_life(each.system, each.preparation);
        REQUIRE(life.life.has_value());
        const double film = plant.option(each.system).film_um();
        CHECK(life.life->scale_years ==
              ranked_scale_years(each.system, each.preparation, film, each.service));
        CHECK(life.expected_years ==
              doctest::Approx(life.life->sound_time(1e4)).epsilon(1e-9));  // the mean, eq. 35
    }
}

TEST_CASE("by hand: epoxy phenolic, moderate, near-white blast, in the field: 12 y x 0.8") {
    const RecoatPlant plant{{.cells = held_at_degc(70)}};
    const NewLife life = plant.new_life("epoxy_phenolic", "sp10_near_white_blast");
    CHECK(life.life->scale_years == doctest::Approx(9.6).epsilon(1e-14));
    CHECK(life.life->shape == 2.5);
    // gamma(1.4) = 0.88726382 (tables of the gamma function).
    CHECK(life.expected_years == doctest::Approx(9.6 * 0.88726382).epsilon(1e-8));
}

TEST_CASE("a worse preparation never gives a longer life") {
    for (const RuleSet* rules : {&extended_rules(), &published_rules()}) {
        const RecoatPlant by{{.cells = held_at_degc(70), .rules = *rules}};
        for (const Word& system : rules->vocabulary("coating_system").words) {
            double before = 0.0;
            for (const char* preparation :
                 {"sp2_hand_tool", "sp3_power_tool", "sp11_bare_metal_power_tool",
                  "sp6_commercial_blast", "sp10_near_white_blast", "sp5_white_blast"}) {
                CAPTURE(system.key);
                const double life = by.new_life(system.key, preparation).expected_years;
                CHECK(life >= before);
                before = life;
            }
        }
    }
}

TEST_CASE("with the published set a new coating has its years of credit: 5 and 15 (API RP 581)") {
    const RecoatPlant plant{{.cells = held_at_degc(70), .rules = published_rules()}};
    const auto credit = [&](const char* system, const char* preparation) {
        const NewLife life = plant.new_life(system, preparation);
        CHECK_FALSE(life.life.has_value());
        CHECK(life.expected_years == life.credit_years);
        return life.credit_years;
    };
    CHECK(credit("epoxy_phenolic", "sp10_near_white_blast") == 15.0);
    CHECK(credit("epoxy", "sp3_power_tool") == 5.0);
    CHECK(credit("silicone", "sp10_near_white_blast") == 5.0);
    CHECK(credit("epoxy", "sp2_hand_tool") == 0.0);
    CHECK(plant.options().front().allowed());
}

TEST_CASE("a dead leg: the life is that where the ranking looks, the limit that of the header") {
    Cells cells = held_at_degc(125);
    cells["dead_leg_length"] = "3 m";
    const RecoatPlant plant{{.cells = cells}};
    CHECK(plant.service.hottest_degc == 125.0);
    CHECK(plant.service.highest_degc < 125.0);
    CHECK(plant.refusal("epoxy") == RecoatRefusal::service_too_hot);
}

}  // namespace
}  // namespace lagline
