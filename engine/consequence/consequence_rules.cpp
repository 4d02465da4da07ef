#include <array>
#include <limits>

#include "consequence/consequence.h"

namespace lagline {
namespace {

constexpr double mm_per_m = 1000.0;

constexpr std::array always_needed{
    TableNeed{.name = "consequence_model", .kind = TableKind::value, .gives = "consequence_model"},
    TableNeed{.name = "consequence_category_of_cost",
              .kind = TableKind::bands,
              .axis = "leak_cost",
              .gives = "consequence_category"},
    TableNeed{.name = "consequence_cost",
              .kind = TableKind::lookup,
              .dimension = Dimension::money,
              .by = "consequence_category"},
    TableNeed{.name = "service_hazard",
              .kind = TableKind::lookup,
              .by = "fluid_class",
              .gives = "service_hazard"},
};

constexpr std::array money_needs{
    TableNeed{.name = "lost_margin", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "outage",
              .kind = TableKind::lookup,
              .dimension = Dimension::time,
              .by = "fluid_class"},
    TableNeed{.name = "repair_fixed", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "repair_length", .kind = TableKind::value, .dimension = Dimension::length},
    TableNeed{.name = "replace_cost",
              .kind = TableKind::bands,
              .dimension = Dimension::money,
              .axis = "nominal_size"},
    TableNeed{.name = "release_size",
              .kind = TableKind::bands,
              .axis = "nominal_size",
              .gives = "release_size"},
    TableNeed{.name = "release_cost",
              .kind = TableKind::grid,
              .dimension = Dimension::money,
              .by = "fluid_class",
              .columns = "release_size"},
    TableNeed{.name = "injury_class_of",
              .kind = TableKind::lookup,
              .by = "fluid_class",
              .gives = "injury_class"},
    TableNeed{.name = "injury_chance", .kind = TableKind::lookup, .by = "fluid_class"},
    TableNeed{.name = "injury_value",
              .kind = TableKind::lookup,
              .dimension = Dimension::money,
              .by = "injury_class"},
};

// Category by category; one that no cost falls into holds nothing.
std::vector<AxisRange> limits_of(const RuleSet& rules, const BandTable& category_of_cost) {
    constexpr double endless = std::numeric_limits<double>::infinity();
    auto limits =
        category_of_cost.ranges_of_words(rules.vocabulary("consequence_category").words.size());
    for (AxisRange& each : limits) {
        if (each.from > each.to) each = {-endless, endless};
    }
    return limits;
}

MoneyRules money_rules(const RuleSet& rules, const Plant& plant, double plant_per_usd) {
    MoneyRules money;
    money.lost_margin_per_day = rules.value("lost_margin").value() * plant_per_usd;
    money.repair_fixed = rules.value("repair_fixed").value() * plant_per_usd;
    money.repair_length_m = rules.value("repair_length").value() / mm_per_m;
    if (const UnitCost* run = replace_run_per_m(plant.description)) {
        money.replace_run_per_m = run->amount;
    }
    money.replace_cost = &rules.band("replace_cost");
    money.release_size = &rules.band("release_size");
    money.release_cost = &rules.grid("release_cost");
    money.injury_class = &rules.lookup("injury_class_of");
    money.injury_chance = &rules.lookup("injury_chance");
    money.injury_value = &rules.lookup("injury_value");
    const Vocabulary& basis = rules.vocabulary("consequence_basis");
    const auto code = [&](std::string_view word) { return basis.code(word).value(); };
    money.basis = {code("leak_cost"), code("money"), code("money_held"), code("category")};
    return money;
}

}  // namespace

std::vector<TableNeed> consequence_needs(const MethodModels& models) {
    std::vector<TableNeed> needs(always_needed.begin(), always_needed.end());
    if (models.money) needs.insert(needs.end(), money_needs.begin(), money_needs.end());
    return needs;
}

ConsequenceRules consequence_rules(const RuleSet& rules, const Plant& plant) {
    ConsequenceRules taken;
    taken.category_of_cost = &rules.band("consequence_category_of_cost");
    taken.cost_of_category = &rules.lookup("consequence_cost");
    taken.plant_per_usd = plant_per_usd(plant.description);
    taken.limits = limits_of(rules, *taken.category_of_cost);
    if (models_of(rules).money) taken.money = money_rules(rules, plant, taken.plant_per_usd);
    return taken;
}

const Word* service_hazard(const Plant& plant, const RuleSet& rules, std::size_t segment) {
    if (!plant.segments.has(SegmentField::fluid_class, segment)) return nullptr;
    const std::uint8_t fluid = plant.segments.codes(SegmentField::fluid_class)[segment];
    return &rules.vocabulary("service_hazard").words[rules.lookup("service_hazard").code(fluid)];
}

double plant_per_usd(const PlantDescription& plant) {
    const auto rate = plant.exchange.find("USD");
    const bool in_usd = plant.currency == "USD" || rate == plant.exchange.end();
    return in_usd ? 1.0 : rate->second;
}

const UnitCost* replace_run_per_m(const PlantDescription& plant) {
    const auto found = plant.unit_costs.find("replace_run");
    return found != plant.unit_costs.end() && found->second.per == "m" ? &found->second : nullptr;
}

std::optional<double> lost_margin_per_day(const Plant& plant, std::size_t segment) {
    if (plant.description.outages.empty()) return std::nullopt;
    const UnitOutage* unit =
        plant.description.outage_of(plant.segments.texts(SegmentField::unit)[segment]);
    return unit == nullptr ? std::nullopt : unit->lost_margin_per_day;
}

}  // namespace lagline
