#include "planning/plan_rules.h"

#include <iterator>

#include "consequence/consequence.h"
#include "planning/futures.h"
#include "planning/work_needs.h"

namespace lagline {
namespace {

constexpr std::array needs{
    TableNeed{.name = "screen_cost", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "inspect_cost", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "guard_cost", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "strip_share", .kind = TableKind::value},
    TableNeed{.name = "scaffold_cost", .kind = TableKind::value, .dimension = Dimension::money},
    TableNeed{.name = "crew_rate",
              .kind = TableKind::lookup,
              .dimension = Dimension::money,
              .by = "craft"},
    TableNeed{.name = "overtime_factor", .kind = TableKind::value},
    TableNeed{.name = "overrun_charge", .kind = TableKind::value},
    TableNeed{.name = "fixed_interval", .kind = TableKind::value, .dimension = Dimension::time},
    TableNeed{.name = "action_crack_effectiveness",
              .kind = TableKind::lookup,
              .by = "work_action",
              .gives = "effectiveness"},
    TableNeed{.name = "action_effectiveness",
              .kind = TableKind::lookup,
              .by = "work_action",
              .gives = "effectiveness"},
    TableNeed{.name = "action_on_stream",
              .kind = TableKind::lookup,
              .by = "work_action",
              .gives = "yes_no"},
    TableNeed{.name = "replace_cost",
              .kind = TableKind::bands,
              .dimension = Dimension::money,
              .axis = "nominal_size"},
};

/// A price that plant.yaml may state, and how it must be counted.
struct SitePrice {
    std::string_view key;
    std::string_view per;
};
constexpr SitePrice screen{"screen", "m"};
constexpr SitePrice inspect_stripped{"inspect_stripped", "m"};
constexpr SitePrice guard{"guard", "m"};
constexpr SitePrice scaffold_group{"scaffold_group", "each"};
constexpr std::array unit_prices{SitePrice{"strip_and_reinsulate", "m"},
                                 SitePrice{"recoat", "m2"},
                                 SitePrice{"replace_run", "m"},
                                 inspect_stripped,
                                 screen,
                                 guard,
                                 scaffold_group};
constexpr std::array crew_prices{SitePrice{"scaffold", "hour"}, SitePrice{"insulation", "hour"},
                                 SitePrice{"coating", "hour"}, SitePrice{"inspection", "hour"},
                                 SitePrice{"welding", "hour"}};
static_assert(crew_prices.size() == crafts);

const double* stated(const std::map<std::string, UnitCost>& prices, const SitePrice& price) {
    const auto found = prices.find(std::string{price.key});
    return found != prices.end() && found->second.per == price.per ? &found->second.amount
                                                                   : nullptr;
}

}  // namespace

PlanRules plan_rules(const RuleSet& rules, const Plant& plant) {
    const PlantDescription& site = plant.description;
    PlanRules taken;
    taken.plant_per_usd = plant_per_usd(site);
    const auto price = [&](const SitePrice& asked, std::string_view table) {
        const double* amount = stated(site.unit_costs, asked);
        return amount != nullptr ? *amount : rules.value(table).value() * taken.plant_per_usd;
    };
    taken.screen_per_m = price(screen, "screen_cost");
    taken.inspect_per_m = price(inspect_stripped, "inspect_cost");
    taken.guard_per_m = price(guard, "guard_cost");
    taken.scaffold_each = price(scaffold_group, "scaffold_cost");
    taken.strip_share = rules.value("strip_share").value();
    for (std::size_t craft = 0; craft < crafts; ++craft) {
        const double* amount = stated(site.crew_rates, crew_prices[craft]);
        taken.hour[craft] =
            amount != nullptr ? *amount
                              : rules.lookup("crew_rate").value(static_cast<std::uint8_t>(craft)) *
                                    taken.plant_per_usd;
    }
    taken.interval_years = rules.value("fixed_interval").value();
    taken.overtime_factor = rules.value("overtime_factor").value();
    taken.overrun_charge = rules.value("overrun_charge").value();
    if (const UnitCost* run = replace_run_per_m(site)) taken.site_replace_per_m = run->amount;
    taken.replace_cost = &rules.band("replace_cost");
    for (std::size_t action = 0; action < work_actions; ++action) {
        const auto code = static_cast<std::uint8_t>(action);
        taken.effectiveness[action] = rules.lookup("action_effectiveness").code(code);
        taken.crack_effectiveness[action] = rules.lookup("action_crack_effectiveness").code(code);
        taken.on_stream[action] = rules.lookup("action_on_stream").entries[action].word == "yes";
    }
    return taken;
}

std::vector<TableNeed> plan_needs() {
    std::vector<TableNeed> all(needs.begin(), needs.end());
    const auto add = [&](std::span<const TableNeed> more) {
        all.insert(all.end(), more.begin(), more.end());
    };
    add(future_needs());
    add(work_needs());
    return all;
}

std::vector<std::string_view> prices_of_the_rules(const Plant& plant) {
    std::vector<std::string_view> missing;
    for (const SitePrice& price : unit_prices) {
        if (stated(plant.description.unit_costs, price) == nullptr) missing.push_back(price.key);
    }
    for (const SitePrice& price : crew_prices) {
        if (stated(plant.description.crew_rates, price) == nullptr) missing.push_back(price.key);
    }
    return missing;
}

}  // namespace lagline
