// What the recoat rules must have in common with each other and with the coating life.
#include <doctest/doctest.h>

#include <algorithm>

#include "learning/finding.h"
#include "planning/plan_rules.h"
#include "planning/work_needs.h"
#include "ranking/ranking.h"
#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

TEST_CASE("both shipped sets have every table that work on a segment needs, and none beyond") {
    auto needs = plan_needs();
    const auto learning = learning_needs();
    needs.insert(needs.end(), learning.begin(), learning.end());
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        CHECK(check_needs(*rules, plan_needs()).ok());
        const Report report = check_rules(*rules, needs);
        INFO(to_text(report));
        CHECK(report.diagnostics().empty());
    }
}

TEST_CASE("a rule set without a table of the recoat specification is refused") {
    RuleSet rules = published_rules();
    rules.lookups.erase("recoat_loss");
    const Report report = check_needs(rules, work_needs());
    CHECK_FALSE(report.ok());
    const auto missing = std::ranges::count_if(report.diagnostics(), [](const Diagnostic& each) {
        return each.problem == Problem::missing_table;
    });
    CHECK(missing == 1);
}

TEST_CASE("films by coat lie within the films of the whole system") {
    const RuleSet& rules = extended_rules();
    const LookupTable& offered = rules.lookup("recoat_offered");
    for (std::uint8_t system = 0; system < offered.entries.size(); ++system) {
        if (offered.code(system) == 0) continue;
        double least = 0.0;
        double most = 0.0;
        for (std::uint8_t coat = 0; coat < most_coats; ++coat) {
            const double from = rules.grid("recoat_film_least").at(system, coat).value;
            const double to = rules.grid("recoat_film_most").at(system, coat).value;
            CHECK(from <= to);
            least += from;
            most += to;
        }
        CAPTURE(offered.entries[system].key);
        CHECK(least > 0.0);
        CHECK(least >= rules.lookup("film_least").value(system));
        CHECK(most <= rules.lookup("film_most").value(system));
    }
}

TEST_CASE("what is offered can be bought, applied and paid for") {
    const RuleSet& rules = published_rules();
    const LookupTable& offered = rules.lookup("recoat_offered");
    for (std::uint8_t system = 0; system < offered.entries.size(); ++system) {
        if (offered.code(system) == 0) continue;
        CAPTURE(offered.entries[system].key);
        CHECK(rules.lookup("recoat_volume_solids").value(system) > 0.0);
        CHECK(rules.lookup("recoat_volume_solids").value(system) <= 1.0);
        CHECK(rules.lookup("recoat_loss").value(system) < 1.0);
        CHECK(rules.lookup("recoat_material_cost").value(system) > 0.0);
        CHECK(rules.lookup("recoat_application_cost").value(system) > 0.0);
        CHECK(rules.lookup("recoat_application_hours").value(system) > 0.0);
        CHECK(rules.lookup("recoat_application_most").value(system) >
              rules.lookup("cure_temperature_least").value(system));
    }
}

TEST_CASE("words that the code counts on stand in its order") {
    const RuleSet& rules = published_rules();
    const auto keys = [&](const char* vocabulary) { return rules.vocabulary(vocabulary).keys(); };
    using Words = std::vector<std::string_view>;
    CHECK(keys("coat") == Words{"first", "second", "third"});
    CHECK(keys("coating_form") == Words{"paint", "metal_spray", "wrap"});
    CHECK(keys("window_kind") == Words{"turnaround", "on_stream"});
    CHECK(keys("maintenance_step") == Words{"touch_up", "maintenance_repaint", "full_repaint"});
    CHECK(keys("craft") == Words{"scaffold", "insulation", "coating", "inspection", "welding"});
    CHECK(keys("work_action") == Words{"screen", "open_part", "strip_recoat", "renew_insulation",
                                       "remove_insulation", "replace_run"});
    CHECK(keys("work_task") ==
          Words{"screen", "strip", "look", "coat", "insulate", "guard", "cut_and_weld"});
    CHECK(keys("task_measure") == Words{"length", "steel_area", "jacket_area", "weld_inch"});
    CHECK(keys("work_caution") ==
          Words{"asbestos", "asbestos_possible", "lead_in_paint", "zinc_on_stainless",
                "chloride_in_coating", "chloride_in_insulation", "thin_wall", "wall_unknown",
                "hot_metal", "hot_work_flammable", "service_hazard", "fluid_unknown"});
    CHECK(keys("material_family").front() == "ferritic");
}

}  // namespace
}  // namespace lagline
