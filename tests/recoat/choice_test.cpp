#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

RecoatPlant at(int degc, const char* material = "carbon_steel") {
    Cells cells = held_at_degc(degc);
    cells["material"] = material;
    return RecoatPlant{{.cells = cells}};
}

double least_um(const RecoatOption& option) {
    double sum = 0.0;
    for (const CoatFilm& film : option.films) sum += film.least_um;
    return sum;
}
double most_um(const RecoatOption& option) {
    double sum = 0.0;
    for (const CoatFilm& film : option.films) sum += film.most_um;
    return sum;
}

TEST_CASE("epoxy ends at 120 degC: NACE SP0108, Table 3B, CM-2, -50 to 120 degC") {
    CHECK(at(120).option("epoxy").allowed());
    CHECK(at(121).refusal("epoxy") == RecoatRefusal::service_too_hot);
    CHECK(at(121).reason("epoxy") == "service reaches 121 degC, made for up to 120 degC");
    CHECK(at(-50).option("epoxy").allowed());
    CHECK(at(-51).refusal("epoxy") == RecoatRefusal::service_too_cold);
}

TEST_CASE("two epoxy coats of 125 to 175 um: NACE SP0108, Table 3B, CM-2") {
    const RecoatOption option = at(60).option("epoxy");
    CHECK(option.coats == 2);
    for (std::size_t coat = 0; coat < 2; ++coat) {
        CHECK(option.films[coat].least_um == doctest::Approx(125.0).epsilon(1e-12));
        CHECK(option.films[coat].target_um == doctest::Approx(150.0).epsilon(1e-12));
        CHECK(option.films[coat].most_um == doctest::Approx(175.0).epsilon(1e-12));
    }
    CHECK(option.film_um() == doctest::Approx(300.0).epsilon(1e-12));
}

TEST_CASE("temperature ranges of NACE SP0198, recalled") {
    CHECK(at(205).option("epoxy_novolac").allowed());
    CHECK_FALSE(at(206).option("epoxy_novolac").allowed());
    CHECK(at(595).option("sprayed_aluminium").allowed());
    CHECK_FALSE(at(596).option("sprayed_aluminium").allowed());
    CHECK(at(650).option("inert_multipolymeric").allowed());
    CHECK_FALSE(at(651).option("inert_multipolymeric").allowed());
    CHECK(at(60).option("petrolatum_tape").allowed());
    CHECK_FALSE(at(61).option("petrolatum_tape").allowed());
}

TEST_CASE("zinc: never on stainless steel, not in wet insulation at 50 to 150 degC (recalled)") {
    for (const char* stainless : {"austenitic_stainless", "duplex_stainless"}) {
        for (const int degc : {20, 100, 300}) {
            CHECK(at(degc, stainless).refusal("inorganic_zinc") ==
                  RecoatRefusal::zinc_on_stainless);
        }
    }
    CHECK(at(49).option("inorganic_zinc").allowed());
    CHECK(at(50).refusal("inorganic_zinc") == RecoatRefusal::zinc_in_wet_heat);
    CHECK(at(150).refusal("inorganic_zinc") == RecoatRefusal::zinc_in_wet_heat);
    CHECK(at(151).option("inorganic_zinc").allowed());
}

TEST_CASE("a cycle that passes through the wet heat counts for zinc") {
    const RecoatPlant plant{{.cells = {{"service", "cyclic"},
                                       {"operating_temperature", "200 degC"},
                                       {"temperature_low", "30 degC"},
                                       {"temperature_high", "200 degC"},
                                       {"hot_fraction", "0.9"},
                                       {"cycles_per_year", "12 1/y"}}}};
    CHECK(plant.refusal("inorganic_zinc") == RecoatRefusal::zinc_in_wet_heat);
}

TEST_CASE("substrates of NACE SP0198, recalled: foil for stainless, tape for carbon steel") {
    CHECK(at(60).refusal("aluminium_foil") == RecoatRefusal::substrate);
    CHECK(at(60, "austenitic_stainless").option("aluminium_foil").allowed());
    CHECK(at(60).option("petrolatum_tape").allowed());
    CHECK(at(60, "austenitic_stainless").refusal("petrolatum_tape") == RecoatRefusal::substrate);
    for (const char* system : {"none", "primer_only", "unknown", "alkyd"}) {
        CHECK(at(60).refusal(system) == RecoatRefusal::not_specified);
    }
}

TEST_CASE("silicone on carbon steel from 150 degC on: NACE SP0108, Table 3B, CM-4") {
    CHECK(at(149).refusal("silicone") == RecoatRefusal::dry_heat);
    CHECK(at(150).option("silicone").allowed());
    CHECK(at(100, "austenitic_stainless").option("silicone").allowed());
}

TEST_CASE("on stream nothing that needs blasting") {
    const RecoatPlant plant = at(45);
    CHECK(plant.refusal("sprayed_aluminium", WorkState::on_stream) == RecoatRefusal::preparation);
    CHECK(plant.reason("sprayed_aluminium", WorkState::on_stream) ==
          "needs sp10 near white blast, which cannot be had on stream");
    const auto blasted = code_of(plant.rules, "surface_preparation", "sp6_commercial_blast");
    for (const RecoatOption& option : plant.options(WorkState::on_stream)) {
        if (option.allowed()) CHECK(option.preparation < blasted);
    }
    CHECK(plant.option("sprayed_aluminium").allowed());
}

TEST_CASE("a rigid film that heat would crack ends at its limit: 300 um above 120 degC") {
    const RecoatOption cool = at(120).option("epoxy_novolac");
    CHECK(most_um(cool) == doctest::Approx(400.0).epsilon(1e-12));
    const RecoatOption hot = at(121).option("epoxy_novolac");
    CHECK(most_um(hot) == doctest::Approx(300.0).epsilon(1e-12));
    CHECK(least_um(hot) == doctest::Approx(200.0).epsilon(1e-12));
    CHECK(hot.films[0].most_um == doctest::Approx(150.0).epsilon(1e-12));
    // The flexible one keeps its film.
    CHECK(most_um(at(180).option("flexible_epoxy_phenolic")) ==
          doctest::Approx(500.0).epsilon(1e-12));
}

TEST_CASE("options: all systems once, those allowed first and in order of life-cycle cost") {
    for (const int degc : {-20, 20, 60, 110, 180, 400}) {
        for (const char* material : {"carbon_steel", "austenitic_stainless"}) {
            for (const WorkState state : {WorkState::shutdown, WorkState::on_stream}) {
                const RecoatPlant plant = at(degc, material);
                const auto all = plant.options(state);
                CHECK(all.size() == plant.rules.vocabulary("coating_system").words.size());
                std::vector<int> seen;
                double before = 0.0;
                bool refused = false;
                for (const RecoatOption& option : all) {
                    seen.push_back(option.system);
                    refused = refused || !option.allowed();
                    CHECK(option.allowed() == !refused);
                    CHECK(plant.planner.reason(option).empty() == option.allowed());
                    if (!option.allowed()) {
                        CHECK(option.rule != nullptr);
                        continue;
                    }
                    CHECK(option.life_cycle_cost >= before);
                    CHECK(option.life_cycle_cost >= option.job_cost());
                    CHECK(std::isfinite(option.life_cycle_cost));
                    CHECK(option.life.expected_years > 0.0);
                    before = option.life_cycle_cost;
                }
                std::ranges::sort(seen);
                std::vector<int> expected(seen.size());
                std::iota(expected.begin(), expected.end(), 0);
                CHECK(seen == expected);
                const auto best = plant.planner.best(0, plant.service, state);
                CHECK(best.has_value() == all.front().allowed());
                if (best) CHECK(best->system == all.front().system);
            }
        }
    }
}

TEST_CASE("a hotter service never brings back a system that was too hot before") {
    std::vector<std::uint8_t> refused;
    for (int degc = 10; degc <= 700; degc += 30) {
        for (const RecoatOption& option : at(degc).options()) {
            const bool was = std::ranges::find(refused, option.system) != refused.end();
            const bool is = option.refusal == RecoatRefusal::service_too_hot;
            CHECK((!was || !option.allowed()));
            if (is && !was) refused.push_back(option.system);
        }
    }
    CHECK(refused.size() >= 8);
}

TEST_CASE("cost of a square metre by hand: epoxy phenolic over a near-white blast") {
    // 45 + 2 x 14 + 2 x 0.125 / 0.68 / 0.65 x 28 = 88.8371 USD; currency of the plant is USD.
    const RecoatOption option = at(70).option("epoxy_phenolic");
    CHECK(option.preparation ==
          code_of(extended_rules(), "surface_preparation", "sp10_near_white_blast"));
    CHECK(option.coating_cost_per_m2 == doctest::Approx(88.8371).epsilon(1e-6));
}

TEST_CASE("a site's rate of recoating sets the level of prices, not their order") {
    UnitCost rate;
    rate.amount = 165.0;
    rate.per = "m2";
    const RecoatPlant plain = at(70);
    const RecoatPlant dear{{.cells = held_at_degc(70), .unit_costs = {{"recoat", rate}}}};
    CHECK(dear.option("epoxy_phenolic").coating_cost_per_m2 ==
          doctest::Approx(165.0).epsilon(1e-12));
    const double level = 165.0 / plain.option("epoxy_phenolic").coating_cost_per_m2;
    CHECK(dear.option("sprayed_aluminium").coating_cost_per_m2 ==
          doctest::Approx(level * plain.option("sprayed_aluminium").coating_cost_per_m2)
              .epsilon(1e-12));
    rate.per = "m";
    const RecoatPlant other{{.cells = held_at_degc(70), .unit_costs = {{"recoat", rate}}}};
    CHECK(other.planner.rules().price_level == 1.0);
}

}  // namespace
}  // namespace lagline
