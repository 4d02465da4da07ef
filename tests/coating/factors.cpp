// The factors of coating_life() with the shipped set `extended`.  Figures marked so are common
// practice, no source: they check that the rules say what the trade says, not that it is right.
#include <doctest/doctest.h>

#include <string>

#include "degradation/coating_life.h"
#include "extended/made_plant.h"

namespace lagline {
namespace {

const RuleSet& rules() { return shipped_extended(); }

// Twelve months of this mean; dry enough that the dew point does not speak.
PlantDescription months_of(double degc, double humidity = 50.0) {
    PlantDescription description;
    description.climate = even_climate(degc, humidity, 600.0);
    return description;
}

CoatingLife life_of(const char* system, const RowCells& changes, double highest_degc = 60.0,
                    double lowest_degc = 20.0, const PlantDescription& description = {}) {
    RowCells cells = changes;
    cells["coating_system"] = system;
    const Plant plant =
        read_made({.segments = {made_segment("S-1", cells)}, .description = description}, rules());
    return coating_life(plant, coating_life_rules(rules(), plant), 0,
                        word_code(rules(), "driver", "moderate"), highest_degc, lowest_degc,
                        make_date(2025, 1, 1));
}

RowCells film(const char* thickness) { return {{"coating_thickness", thickness}}; }

TEST_CASE("epoxy phenolic stands about 232 degC (450 degF): common practice, no source") {
    CHECK(life_of("epoxy_phenolic", {}, 232.0).temperature == 1.0);
    CHECK(life_of("epoxy_phenolic", {}, 233.0).temperature == 0.5);
    CHECK(life_of("epoxy_phenolic", {}, 300.0).temperature == 0.1);
    CHECK(life_of("epoxy_phenolic", {}, 60.0, -60.0).temperature == 0.5);  // below -45 degC
}

TEST_CASE("cure: conventional not below 10 degC, flexible to -4 degC: common practice, no source") {
    const RowCells in_field{{"coating_date", "2012-06-15"}};
    const auto application = [&](const char* system, double degc) {
        return life_of(system, in_field, 60.0, 20.0, months_of(degc)).application;
    };
    CHECK(application("epoxy_phenolic", 10.0) == 1.0);
    CHECK(application("epoxy_phenolic", 9.0) == 0.5);
    CHECK(application("epoxy_phenolic", -3.0) == 0.5);
    CHECK(application("flexible_epoxy_phenolic", 9.0) == 1.0);
    CHECK(application("flexible_epoxy_phenolic", -4.0) == 1.0);
    CHECK(application("flexible_epoxy_phenolic", -5.0) == 0.5);
}

TEST_CASE("application: dew point within 3 K, shop coats and dates without a month") {
    const RowCells in_field{{"coating_date", "2012-06-15"}};
    CHECK(life_of("epoxy", in_field, 60.0, 20.0, months_of(15.0, 90.0)).application == 0.6);
    CHECK(life_of("epoxy", in_field, 60.0, 20.0, months_of(8.0, 90.0)).application ==
          doctest::Approx(0.3).epsilon(1e-15));
    CHECK(life_of("epoxy", in_field, 60.0, 20.0, months_of(8.0, 90.0)).place == 0.8);
    // Coated before it went into service: in the shop, out of the weather.
    const CoatingLife shop = life_of("epoxy", {}, 60.0, 20.0, months_of(2.0, 95.0));
    CHECK(shop.application == 1.0);
    CHECK(shop.place == 1.0);
    // Sixty days after the start of service still count as the shop.
    CHECK(life_of("epoxy", {{"coating_date", "2005-02-20"}}).place == 1.0);
    CHECK(life_of("epoxy", {{"coating_date", "2005-03-20"}}).place == 0.8);
    // A year alone names no month.
    CHECK(life_of("epoxy", {{"coating_date", "2012"}}, 60.0, 20.0, months_of(2.0)).application ==
          1.0);
}

TEST_CASE("thick films crack when hot: common practice, no source") {
    // Conventional: 300 um stands 120 degC; above that thickness it cracks at 150 to 205 degC.
    for (const double degc : {60.0, 120.0, 150.0, 205.0}) {
        CAPTURE(degc);
        CHECK(life_of("epoxy_phenolic", film("300 um"), degc).cracking == 1.0);
    }
    CHECK(life_of("epoxy_phenolic", film("450 um"), 120.0).cracking == 1.0);
    CHECK(life_of("epoxy_phenolic", film("450 um"), 150.0).cracking < 0.5);
    CHECK(life_of("epoxy_phenolic", film("450 um"), 205.0).cracking <
          life_of("epoxy_phenolic", film("450 um"), 150.0).cracking);
    // Flexible: about 1000 um to about 150 degC.
    CHECK(life_of("flexible_epoxy_phenolic", film("1000 um"), 150.0).cracking == 1.0);
    CHECK(life_of("flexible_epoxy_phenolic", film("1200 um"), 150.0).cracking == 1.0);
    CHECK(life_of("flexible_epoxy_phenolic", film("1200 um"), 205.0).cracking < 1.0);
    CHECK(life_of("sprayed_aluminium", film("450 um"), 205.0).cracking == 1.0);
}

TEST_CASE("a year in the yard: 75 to 100 um against about 38 um: common practice, no source") {
    const RowCells stored{{"coating_thickness", "300 um"}, {"yard_storage", "12 month"}};
    const double conventional = 300.0 - life_of("epoxy_phenolic", stored).film_um;
    CHECK(conventional >= 75.0);
    CHECK(conventional <= 100.0);
    const double flexible = 300.0 - life_of("flexible_epoxy_phenolic", stored).film_um;
    CHECK(flexible == doctest::Approx(38.0).epsilon(1e-12));
    // Half a year takes half; a film that is gone is gone.
    const RowCells half{{"coating_thickness", "300 um"}, {"yard_storage", "6 month"}};
    CHECK(300.0 - life_of("epoxy_phenolic", half).film_um ==
          doctest::Approx(conventional / 2.0).epsilon(1e-12));
    const RowCells gone{{"coating_thickness", "50 um"}, {"yard_storage", "24 month"}};
    CHECK(life_of("epoxy_phenolic", gone).film_um == 0.0);
    CHECK(life_of("epoxy_phenolic", gone).life.scale_years == 0.0);
}

TEST_CASE("two coats of 100 to 150 um: common practice, no source") {
    CHECK(
        rules().lookup("film_least").value(word_code(rules(), "coating_system", "epoxy_phenolic")) *
            1e3 ==
        doctest::Approx(200.0).epsilon(1e-12));
    CHECK(
        rules().lookup("film_most").value(word_code(rules(), "coating_system", "epoxy_phenolic")) *
            1e3 ==
        doctest::Approx(300.0).epsilon(1e-12));
    CHECK(life_of("epoxy_phenolic", film("200 um")).thin_film == 1.0);
    CHECK(life_of("epoxy_phenolic", film("199 um")).thin_film < 1.0);
    double before = 2.0;
    for (const char* thickness : {"250 um", "190 um", "140 um", "90 um", "40 um"}) {
        CAPTURE(thickness);
        const double now = life_of("epoxy_phenolic", film(thickness)).thin_film;
        CHECK(now < before);
        before = now;
    }
}

TEST_CASE("a film that is not known is the middle of what its system is asked for") {
    const CoatingLife found = life_of("epoxy_phenolic", {}, 180.0);
    CHECK(found.film_um == doctest::Approx(250.0).epsilon(1e-12));
    CHECK(found.thin_film == 1.0);
    CHECK(found.cracking == 1.0);
    // Half of the films that are asked for of epoxy novolac crack when they are hot.
    CHECK(life_of("epoxy_novolac", {}, 180.0).cracking < 1.0);
    CHECK(life_of("epoxy_novolac", {}, 100.0).cracking == 1.0);
}

TEST_CASE("the scale is the base times all factors; a system not known takes its quality") {
    const CoatingLife found = life_of("epoxy_phenolic",
                                      {{"coating_thickness", "450 um"},
                                       {"coating_substrate_prep", "sp3_power_tool"},
                                       {"coating_date", "2012-06-15"},
                                       {"cycles_per_year", "200 1/y"}},
                                      250.0, -50.0, months_of(5.0, 95.0));
    CHECK(found.base_scale_years == 12.0);
    CHECK(found.preparation == 0.5);
    CHECK(found.cycling == 0.7);
    CHECK(found.temperature == doctest::Approx(0.25 * 0.5).epsilon(1e-15));
    CHECK(found.life.scale_years ==
          doctest::Approx(12.0 * 0.5 * 0.8 * (0.5 * 0.6) * found.cracking * (0.25 * 0.5) * 0.7)
              .epsilon(1e-14));
    CHECK(found.life.shape == 2.5);
    for (const auto& [quality, years] :
         {std::pair{"none", 0.0}, std::pair{"medium", 5.0}, std::pair{"high", 9.0}}) {
        const CoatingLife unknown = life_of("unknown", {{"coating_quality", quality}});
        CHECK(unknown.base_scale_years == doctest::Approx(years).epsilon(1e-15));
        CHECK(unknown.life.shape == 2.5);
    }
}

TEST_CASE("no factor of the shipped rules lengthens a life") {
    for (const Word& word : rules().vocabulary("coating_system").words) {
        for (const double degc : {-60.0, 20.0, 150.0, 300.0, 700.0}) {
            for (const char* thickness : {"20 um", "250 um", "450 um", "3000 um"}) {
                CAPTURE(word.key);
                CAPTURE(degc);
                CAPTURE(thickness);
                const CoatingLife found =
                    life_of(word.key.c_str(), film(thickness), degc, degc, months_of(3.0));
                CHECK(found.life.scale_years <= found.base_scale_years);
                CHECK(found.life.scale_years >= 0.0);
                CHECK(found.life.shape > 0.0);
            }
        }
    }
}

}  // namespace
}  // namespace lagline
