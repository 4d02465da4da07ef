#include <doctest/doctest.h>

#include <numeric>

#include "planning/take_off.h"
#include "quantity/pipe_size.h"
#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

RecoatPlant pipe(const char* nps, const char* outside, const Cells& changes = {}) {
    Cells cells = held_at_degc(70);
    cells["nominal_size"] = nps;
    cells["outside_diameter"] = outside;
    cells["length"] = "10 m";
    cells["fittings"] = "0";
    cells["insulation_thickness"] = "50 mm";
    cells["elevation"] = "6 m";
    for (const auto& [key, text] : changes) cells[key] = text;
    return RecoatPlant{{.cells = cells}};
}

TakeOff counted(const RecoatPlant& on, WorkAction action, const RecoatOption* coating = nullptr,
                double opened = -1.0) {
    return take_off(on.plant, take_off_rules(on.rules), 0, on.surface(), action, coating, opened);
}

TEST_CASE("steel surface of pipe: outside diameters of ASME B36.10M, rows NPS 2, 6, 12") {
    // pi x 0.0603, 0.1683 and 0.3238 m, ten metres each.
    CHECK(pipe("NPS 2", "").surface().steel_m2 == doctest::Approx(1.89438).epsilon(1e-5));
    CHECK(pipe("NPS 6", "").surface().steel_m2 == doctest::Approx(5.28730).epsilon(1e-5));
    CHECK(pipe("NPS 12", "").surface().steel_m2 == doctest::Approx(10.17248).epsilon(1e-5));
}

TEST_CASE("jacket by hand: NPS 6 in 50 mm is pi x 0.2683 m, NPS 2 in 80 mm pi x 0.2203 m") {
    CHECK(pipe("NPS 6", "").surface().jacket_m2 == doctest::Approx(8.42889).epsilon(1e-5));
    const RecoatPlant thick = pipe("NPS 2", "", {{"insulation_thickness", "80 mm"}});
    CHECK(thick.surface().jacket_m2 == doctest::Approx(6.92093).epsilon(1e-5));
}

TEST_CASE("fittings count as three diameters of pipe each") {
    const SegmentSurface with = pipe("NPS 6", "", {{"fittings", "2"}}).surface();
    CHECK(with.equivalent_m == doctest::Approx(11.0098).epsilon(1e-12));
    CHECK(with.steel_m2 == doctest::Approx(3.14159265 * 0.1683 * 11.0098).epsilon(1e-8));
    CHECK_FALSE(with.length_assumed);
    CHECK_FALSE(with.insulation_assumed);
}

TEST_CASE("what is not recorded is assumed, and said") {
    const SegmentSurface bare =
        pipe("NPS 6", "",
             {{"length", ""}, {"fittings", ""}, {"elevation", ""}, {"insulation_thickness", ""}})
            .surface();
    CHECK(bare.length_m == 12.0);
    CHECK(bare.fittings == 2.0);
    CHECK(bare.elevation_m == 4.0);
    CHECK(bare.length_assumed);
    CHECK(bare.fittings_assumed);
    CHECK(bare.elevation_assumed);
    CHECK(bare.insulation_assumed);
}

TEST_CASE("litres by hand: 10 m2 of 250 um at 68 % solids and 35 % loss") {
    // 10 x 0.25 = 2.5 l dry, / 0.68 = 3.676 l wet, / 0.65 = 5.656 l bought.
    CHECK(coat_litres(10.0, 250.0, 0.68, 0.35) == doctest::Approx(5.65611).epsilon(1e-5));
    CHECK(coat_litres(1.0, 1000.0, 1.0, 0.0) == doctest::Approx(1.0).epsilon(1e-15));
}

TEST_CASE("more film, area or loss, or less solids, never takes fewer litres") {
    for (double film = 25.0; film < 500.0; film += 25.0) {
        for (double solids = 0.3; solids < 1.0; solids += 0.1) {
            for (double loss = 0.0; loss < 0.7; loss += 0.1) {
                const double now = coat_litres(8.0, film, solids, loss);
                CHECK(now > 0.0);
                CHECK(coat_litres(8.0, film + 5.0, solids, loss) >= now);
                CHECK(coat_litres(8.5, film, solids, loss) >= now);
                CHECK(coat_litres(8.0, film, solids, loss + 0.05) >= now);
                CHECK(coat_litres(8.0, film, solids + 0.05, loss) <= now);
            }
        }
    }
}

TEST_CASE("the material of an option is that of its films on the steel of the segment") {
    const RecoatPlant on = pipe("NPS 6", "");
    const RecoatOption option = on.option("epoxy_phenolic");
    REQUIRE(option.allowed());
    const double each = coat_litres(on.surface().steel_m2, 125.0, 0.68, 0.35);
    CHECK(option.material[0] == doctest::Approx(each).epsilon(1e-12));
    CHECK(option.material[1] == doctest::Approx(each).epsilon(1e-12));
    CHECK(option.material[2] == 0.0);
    // Tape is bought by its area: half of it lies on itself.
    const RecoatPlant cold = pipe("NPS 6", "", held_at_degc(40));
    CHECK(cold.option("petrolatum_tape").material[0] ==
          doctest::Approx(2.0 * cold.surface().steel_m2).epsilon(1e-12));
}

TEST_CASE("hours of stripping and recoating by hand: NPS 6, 10 m, at 6 m") {
    // Factor 1.2 for the size.  Strip 8.42889 m2 x 0.25 h, insulate x 0.9 h; look 5.28730 m2 x
    // 0.15 h; coat 5.28730 m2 x (0.8 + 2 x 0.3) h; scaffold 6 + 6 x 2.5 h.
    const RecoatPlant on = pipe("NPS 6", "");
    const RecoatOption coating = on.option("epoxy_phenolic");
    const TakeOff work = counted(on, WorkAction::strip_recoat, &coating);
    CHECK(work.hours_of(Craft::insulation) == doctest::Approx(11.63187).epsilon(1e-6));
    CHECK(work.hours_of(Craft::inspection) == doctest::Approx(0.951714).epsilon(1e-5));
    CHECK(work.hours_of(Craft::coating) == doctest::Approx(8.88266).epsilon(1e-5));
    CHECK(work.hours_of(Craft::scaffold) == 21.0);
    CHECK(work.hours_of(Craft::welding) == 0.0);
    CHECK(work.coated_m2 == on.surface().steel_m2);
    CHECK(work.insulated_m == on.surface().equivalent_m);
    CHECK(work.material == coating.material);
}

TEST_CASE("hours of replacing a run by hand: 10 m of NPS 6 with one fitting has five welds") {
    // Two spools of up to 6 m: three welds, and two of the fitting; 5 x 6 in x 1.2 h.
    const RecoatPlant on = pipe("NPS 6", "", {{"fittings", "1"}});
    const TakeOff work = counted(on, WorkAction::replace_run);
    CHECK(work.hours_of(Craft::welding) == doctest::Approx(36.0).epsilon(1e-12));
    CHECK(work.pipe_m == 10.0);
    CHECK(work.coated_m2 == 0.0);  // the coating is still open
    CHECK(work.hours_of(Craft::coating) == 0.0);
}

TEST_CASE("each action counts what it does") {
    const RecoatPlant on = pipe("NPS 6", "");
    const TakeOff screen = counted(on, WorkAction::screen);
    CHECK(screen.stripped_m == 0.0);
    CHECK(screen.hours_of(Craft::inspection) == doctest::Approx(1.5).epsilon(1e-12));
    CHECK(screen.hours_of(Craft::insulation) == 0.0);
    const TakeOff renew = counted(on, WorkAction::renew_insulation);
    CHECK(renew.coated_m2 == 0.0);
    CHECK(renew.jacket_m2 == on.surface().jacket_m2);
    const TakeOff remove = counted(on, WorkAction::remove_insulation);
    CHECK(remove.jacket_m2 == 0.0);
    CHECK(remove.stripped_m == on.surface().equivalent_m);
    CHECK(remove.hours_of(Craft::insulation) > 0.0);
}

TEST_CASE("what is opened is a share of what is stripped in full") {
    const RecoatPlant on = pipe("NPS 6", "");
    const TakeOff all = counted(on, WorkAction::open_part, nullptr, 1.0);
    CHECK(all.stripped_m == counted(on, WorkAction::renew_insulation).stripped_m);
    for (const double share : {0.0, 0.1, 0.25, 0.6}) {
        const TakeOff part = counted(on, WorkAction::open_part, nullptr, share);
        CHECK(part.stripped_m == doctest::Approx(share * all.stripped_m).epsilon(1e-12));
        CHECK(part.hours_of(Craft::insulation) ==
              doctest::Approx(share * all.hours_of(Craft::insulation)).epsilon(1e-12));
        CHECK(part.hours_of(Craft::scaffold) == all.hours_of(Craft::scaffold));
    }
    CHECK(counted(on, WorkAction::open_part).stripped_m ==
          counted(on, WorkAction::open_part, nullptr, 0.25).stripped_m);
}

TEST_CASE("what is reached from the ground needs no scaffold") {
    const TakeOffRules rules = take_off_rules(published_rules());
    CHECK(scaffold_hours(rules, -3.0) == 0.0);
    CHECK(scaffold_hours(rules, 2.0) == 0.0);
    CHECK(scaffold_hours(rules, 2.1) == doctest::Approx(11.25).epsilon(1e-12));
    CHECK(scaffold_hours(rules, 10.0) == doctest::Approx(31.0).epsilon(1e-12));
}

TEST_CASE("access is priced by the site's rates a metre and a fitting, else by the rules") {
    Cells cells = held_at_degc(70);
    cells["length"] = "10 m";
    cells["fittings"] = "2";
    UnitCost metre;
    metre.amount = 310.0;
    metre.per = "m";
    UnitCost fitting;
    fitting.amount = 185.0;
    fitting.per = "fitting";
    const auto cost = [&](const std::map<std::string, UnitCost>& rates) {
        const RecoatPlant on{{.cells = cells, .unit_costs = rates}};
        return access_cost(on.plant, on.planner.surface_rules(), 0, on.surface());
    };
    CHECK(cost({}) == doctest::Approx(320.0 * 11.0098).epsilon(1e-12));
    CHECK(cost({{"strip_and_reinsulate", metre}}) ==
          doctest::Approx(310.0 * 11.0098).epsilon(1e-12));
    CHECK(cost({{"strip_and_reinsulate", metre}, {"fitting", fitting}}) ==
          doctest::Approx(3470.0).epsilon(1e-12));
}

}  // namespace
}  // namespace lagline
