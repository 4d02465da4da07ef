#include "planning/recoat_rules.h"

#include <algorithm>
#include <cmath>

#include "consequence/consequence.h"
#include "exposure/dew_point.h"
#include "planning/recoat_option.h"

namespace lagline {
namespace {

constexpr TableNeed by_system(std::string_view name, std::string_view gives) {
    return {.name = name, .kind = TableKind::lookup, .by = "coating_system", .gives = gives};
}
constexpr TableNeed by_system(std::string_view name, Dimension dimension) {
    return {
        .name = name, .kind = TableKind::lookup, .dimension = dimension, .by = "coating_system"};
}
constexpr TableNeed by_preparation(std::string_view name, Dimension dimension) {
    return {.name = name,
            .kind = TableKind::lookup,
            .dimension = dimension,
            .by = "surface_preparation"};
}
constexpr TableNeed by_step(std::string_view name) {
    return {.name = name, .kind = TableKind::lookup, .by = "maintenance_step"};
}
constexpr TableNeed one_number(std::string_view name, Dimension dimension) {
    return {.name = name, .kind = TableKind::value, .dimension = dimension};
}
constexpr TableNeed film(std::string_view name) {
    return {.name = name,
            .kind = TableKind::grid,
            .dimension = Dimension::length,
            .by = "coating_system",
            .columns = "coat"};
}

constexpr std::array needs{
    by_system("recoat_offered", "yes_no"),
    TableNeed{.name = "recoat_substrate",
              .kind = TableKind::grid,
              .by = "coating_system",
              .columns = "material_family",
              .gives = "yes_no"},
    by_system("recoat_cyclic", "yes_no"),
    by_system("coating_temperature_most", Dimension::temperature),
    by_system("coating_temperature_least", Dimension::temperature),
    by_system("holds_zinc", "yes_no"),
    by_system("dry_heat_only", "yes_no"),
    by_system("recoat_preparation_least", "surface_preparation"),
    by_system("cure_temperature_least", Dimension::temperature),
    by_system("recoat_application_most", Dimension::temperature),
    by_system("recoat_form", "coating_form"),
    by_system("recoat_volume_solids", Dimension::number),
    by_system("recoat_loss", Dimension::number),
    by_system("recoat_material_cost", Dimension::money),
    by_system("recoat_application_cost", Dimension::money),
    by_system("recoat_application_hours", Dimension::work),
    film("recoat_film_least"),
    film("recoat_film_most"),
    TableNeed{.name = "recoat_quality",
              .kind = TableKind::grid,
              .by = "coating_system",
              .columns = "surface_preparation",
              .gives = "coating_quality"},
    by_system("coating_rigidity_of", "coating_rigidity"),
    TableNeed{.name = "thick_film_limit",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "coating_rigidity"},
    by_preparation("preparation_rank", Dimension::number),
    by_preparation("preparation_cost", Dimension::money),
    by_preparation("preparation_hours", Dimension::work),
    TableNeed{.name = "preparation_possible",
              .kind = TableKind::grid,
              .by = "surface_preparation",
              .columns = "window_kind",
              .gives = "yes_no"},
    TableNeed{.name = "material_family",
              .kind = TableKind::lookup,
              .by = "material",
              .gives = "material_family"},
    one_number("dry_heat_from", Dimension::temperature),
    one_number("zinc_wet_from", Dimension::temperature),
    one_number("zinc_wet_to", Dimension::temperature),
    one_number("hot_film_from", Dimension::temperature),
    one_number("dew_point_margin", Dimension::temperature_difference),
    TableNeed{.name = "recoat_reference", .kind = TableKind::value, .gives = "coating_system"},
    TableNeed{.name = "recoat_reference_preparation",
              .kind = TableKind::value,
              .gives = "surface_preparation"},
    by_step("maintenance_at"),
    by_step("maintenance_cost"),
    one_number("life_cycle_horizon", Dimension::time),
    one_number("discount_rate", Dimension::frequency),
};

void take_tables(const RuleSet& rules, RecoatRules& taken) {
    taken.specifiable = &rules.lookup("recoat_offered");
    taken.substrate = &rules.grid("recoat_substrate");
    taken.cyclic = &rules.lookup("recoat_cyclic");
    taken.temperature_most = &rules.lookup("coating_temperature_most");
    taken.temperature_least = &rules.lookup("coating_temperature_least");
    taken.holds_zinc = &rules.lookup("holds_zinc");
    taken.dry_heat_only = &rules.lookup("dry_heat_only");
    taken.preparation_least = &rules.lookup("recoat_preparation_least");
    taken.cure_least = &rules.lookup("cure_temperature_least");
    taken.application_most = &rules.lookup("recoat_application_most");
    taken.form = &rules.lookup("recoat_form");
    taken.volume_solids = &rules.lookup("recoat_volume_solids");
    taken.loss = &rules.lookup("recoat_loss");
    taken.material_cost = &rules.lookup("recoat_material_cost");
    taken.application_cost = &rules.lookup("recoat_application_cost");
    taken.application_hours = &rules.lookup("recoat_application_hours");
    taken.film_least = &rules.grid("recoat_film_least");
    taken.film_most = &rules.grid("recoat_film_most");
    taken.quality = &rules.grid("recoat_quality");
    taken.rigidity = &rules.lookup("coating_rigidity_of");
    taken.thick_film_limit = &rules.lookup("thick_film_limit");
    taken.cleanliness = &rules.lookup("preparation_rank");
    taken.preparation_cost = &rules.lookup("preparation_cost");
    taken.preparation_hours = &rules.lookup("preparation_hours");
    taken.preparation_possible = &rules.grid("preparation_possible");
    taken.material_family = &rules.lookup("material_family");
    taken.credit = &rules.lookup("coating_life");
}

void take_numbers(const RuleSet& rules, RecoatRules& taken) {
    taken.dry_heat_from_degc = rules.value("dry_heat_from").value();
    taken.zinc_wet_from_degc = rules.value("zinc_wet_from").value();
    taken.zinc_wet_to_degc = rules.value("zinc_wet_to").value();
    taken.hot_film_from_degc = rules.value("hot_film_from").value();
    taken.dew_margin_k = rules.value("dew_point_margin").value();
    const LookupTable& at = rules.lookup("maintenance_at");
    const LookupTable& cost = rules.lookup("maintenance_cost");
    for (std::size_t step = 0; step < taken.sequence.steps.size(); ++step) {
        taken.sequence.steps[step] = {at.entries[step].value, cost.entries[step].value};
    }
    taken.terms = {rules.value("life_cycle_horizon").value(), rules.value("discount_rate").value()};
    const Vocabulary& service = rules.vocabulary("service");
    taken.cyclic_service = service.code("cyclic").value();
    taken.idle_service = service.code("idle").value();
}

void take_climate(const Plant& plant, RecoatRules& taken) {
    const auto& climate = plant.description.climate;
    if (!climate) return;
    taken.month_degc.assign(climate->mean_temperature_degc.begin(),
                            climate->mean_temperature_degc.end());
    for (std::size_t month = 0; month < taken.month_degc.size(); ++month) {
        taken.month_dew_degc.push_back(
            dew_point_degc(taken.month_degc[month], climate->relative_humidity_percent[month]));
    }
}

// A site's rate a square metre says how dear work is there; the rules say how systems differ.
double price_level(const RuleSet& rules, const Plant& plant, const RecoatRules& taken) {
    const auto site = plant.description.unit_costs.find("recoat");
    if (site == plant.description.unit_costs.end() || site->second.per != "m2") return 1.0;
    const std::uint8_t system = rules.value("recoat_reference").code();
    const auto films = specified_films(taken, system, DegCelsius{0.0}).value_or(SpecifiedFilms{});
    const double of_rules = coating_usd_per_m2(
        taken, system, rules.value("recoat_reference_preparation").code(), films);
    return of_rules > 0.0 ? site->second.amount / (of_rules * taken.plant_per_usd) : 1.0;
}

}  // namespace

std::span<const TableNeed> recoat_needs() { return needs; }

RecoatRules recoat_rules(const RuleSet& rules, const Plant& plant) {
    RecoatRules taken;
    take_tables(rules, taken);
    take_numbers(rules, taken);
    take_climate(plant, taken);
    taken.plant_per_usd = plant_per_usd(plant.description);
    if (models_of(rules).life_model) {
        taken.life = coating_life_rules(rules, plant);
        for (const RuleEntry& shape : taken.life->shape->entries) {
            taken.mean_over_scale.push_back(std::tgamma(1.0 + 1.0 / shape.value));
        }
    }
    taken.price_level = price_level(rules, plant, taken);
    return taken;
}

}  // namespace lagline
