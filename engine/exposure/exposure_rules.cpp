#include "exposure/exposure_rules.h"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "exposure/dew_point.h"
#include "quantity/unit.h"

namespace lagline {
namespace {

constexpr double mm_per_km = 1e6;
constexpr double percent_per_one = 100.0;

constexpr std::array always_needed{
    TableNeed{.name = "temperature_model", .kind = TableKind::value, .gives = "temperature_model"},
    TableNeed{.name = "driver_model", .kind = TableKind::value, .gives = "driver_model"},
    // Read at intake, which names no needs of its own.
    TableNeed{.name = "implied_cycle_step",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
};

constexpr TableNeed damage_need{.name = "condition_of_jacket_damage",
                                .kind = TableKind::lookup,
                                .by = "jacket_damage",
                                .gives = "insulation_condition"};

constexpr std::array cycle_needs{
    TableNeed{.name = "heating_ramp_share", .kind = TableKind::value},
    TableNeed{.name = "standby_default", .kind = TableKind::value},
    TableNeed{.name = "standby_band",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
    TableNeed{.name = "ambient_humidity", .kind = TableKind::value},
    TableNeed{.name = "dew_point_band",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
    TableNeed{.name = "crossing_band",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
    TableNeed{.name = "ambient_temperature",
              .kind = TableKind::value,
              .dimension = Dimension::temperature},
    TableNeed{
        .name = "susceptible_from", .kind = TableKind::value, .dimension = Dimension::temperature},
    TableNeed{
        .name = "susceptible_to", .kind = TableKind::value, .dimension = Dimension::temperature},
    TableNeed{.name = "insulation_conductivity",
              .kind = TableKind::curves,
              .dimension = Dimension::conductivity,
              .by = "insulation_type",
              .axis = "mean_temperature"},
    TableNeed{.name = "jacket_emissivity", .kind = TableKind::lookup, .by = "jacket"},
    TableNeed{.name = "wet_fraction", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "wet_conductivity_exponent", .kind = TableKind::value},
    TableNeed{.name = "wind_speed", .kind = TableKind::value, .dimension = Dimension::speed},
    TableNeed{.name = "steel_conductivity",
              .kind = TableKind::lookup,
              .dimension = Dimension::conductivity,
              .by = "material"},
    TableNeed{.name = "touch_limit", .kind = TableKind::value, .dimension = Dimension::temperature},
};

constexpr std::array driver_needs{
    TableNeed{.name = "driver_by_rainfall",
              .kind = TableKind::bands,
              .axis = "annual_rainfall",
              .gives = "driver"},
    TableNeed{.name = "driver_by_coast",
              .kind = TableKind::bands,
              .axis = "coast_distance",
              .gives = "driver"},
    TableNeed{
        .name = "driver_by_condensing", .kind = TableKind::curves, .axis = "condensing_months"},
    TableNeed{.name = "driver_of_tracing",
              .kind = TableKind::lookup,
              .by = "heat_tracing",
              .gives = "driver"},
    TableNeed{
        .name = "severe_from_cycles", .kind = TableKind::value, .dimension = Dimension::frequency},
    TableNeed{.name = "driver_of_drift", .kind = TableKind::value, .gives = "driver"},
    TableNeed{.name = "driver_of_deluge", .kind = TableKind::value, .gives = "driver"},
};

std::vector<ServiceKind> kinds_of(const Vocabulary& words) {
    constexpr std::array<std::pair<std::string_view, ServiceKind>, 4> known{
        {{"continuous", ServiceKind::continuous},
         {"cyclic", ServiceKind::cyclic},
         {"intermittent", ServiceKind::intermittent},
         {"idle", ServiceKind::idle}}};
    std::vector<ServiceKind> kinds;
    for (const Word& word : words.words) {
        const auto at = std::ranges::find(known, word.key, &decltype(known)::value_type::first);
        // A word that an overlay added has no cycle of its own: it runs as it is.
        kinds.push_back(at == known.end() ? ServiceKind::continuous : at->second);
    }
    return kinds;
}

SiteAir air_of(const RuleSet& rules, const Plant& plant) {
    SiteAir air;
    air.wind_m_per_s = rules.value("wind_speed").value();
    const auto& climate = plant.description.climate;
    if (!climate) {
        air.annual_degc = rules.value("ambient_temperature").value();
        air.mean_degc = {air.annual_degc};
        air.mean_dew_point_degc = dew_point_degc(
            air.annual_degc, percent_per_one * rules.value("ambient_humidity").value());
        return air;
    }
    air.mean_degc.assign(climate->mean_temperature_degc.begin(),
                         climate->mean_temperature_degc.end());
    for (std::size_t month = 0; month < air.mean_degc.size(); ++month) {
        air.dew_point_degc.push_back(
            dew_point_degc(air.mean_degc[month], climate->relative_humidity_percent[month]));
    }
    air.annual_degc = std::accumulate(air.mean_degc.begin(), air.mean_degc.end(), 0.0) /
                      static_cast<double>(air.mean_degc.size());
    air.mean_dew_point_degc =
        std::accumulate(air.dew_point_degc.begin(), air.dew_point_degc.end(), 0.0) /
        static_cast<double>(air.dew_point_degc.size());
    if (climate->wind_speed_m_per_s) air.wind_m_per_s = *climate->wind_speed_m_per_s;
    return air;
}

SiteDrivers drivers_of(const RuleSet& rules, const Plant& plant) {
    SiteDrivers drivers;
    drivers.drift = rules.value("driver_of_drift").code();
    drivers.deluge = rules.value("driver_of_deluge").code();
    drivers.none = static_cast<std::uint8_t>(rules.vocabulary("driver").words.size() - 1);
    const auto& climate = plant.description.climate;
    if (!climate) return drivers;
    const double rain_mm =
        std::accumulate(climate->rainfall_mm.begin(), climate->rainfall_mm.end(), 0.0);
    drivers.rainfall = rules.band("driver_by_rainfall").find(0, rain_mm).code;
    if (climate->coast_distance_km) {
        drivers.coast =
            rules.band("driver_by_coast").find(0, *climate->coast_distance_km * mm_per_km).code;
    }
    return drivers;
}

// Ferritic steel has no table of cracking; every other family that loses wall may have both.
bool some_lose_wall_and_crack(const RuleSet& rules) {
    const auto table = rules.lookups.find("wall_loss_of_family");
    if (table == rules.lookups.end()) return false;
    return std::ranges::any_of(table->second.entries, [](const RuleEntry& entry) {
        return entry.key != "ferritic" && entry.word == "yes";
    });
}

}  // namespace

MethodModels models_of(const RuleSet& rules) {
    const bool cycle = chooses(rules, "temperature_model", "service_cycle");
    return {.service_cycle = cycle,
            // Condensation, one of the drivers, comes out of the heat balance.
            .derived_driver = cycle && chooses(rules, "driver_model", "derived"),
            .life_model = cycle && chooses(rules, "coating_model", "life_model"),
            .two_mechanisms = some_lose_wall_and_crack(rules),
            .measured_rate = chooses(rules, "rate_model", "measured"),
            .jacket_findings = rules.lookups.contains(damage_need.name),
            .money = chooses(rules, "consequence_model", "money")};
}

const TableNeed& jacket_damage_need() { return damage_need; }

Report check_models(const RuleSet& rules) {
    Report report;
    if (models_of(rules).service_cycle) return report;
    for (const auto& [table, word] :
         {std::pair{"coating_model", "life_model"}, std::pair{"driver_model", "derived"}}) {
        if (!chooses(rules, table, word)) continue;
        report.add({.problem = Problem::contradiction,
                    .where = rules.value(table).entries.front().place,
                    .subject = table,
                    .found = std::string{word} + " without the service cycle",
                    .expected = "temperature_model: service_cycle beside it",
                    .mend = "choose the service cycle too, or base the rules on `extended`",
                    .excerpt = {}});
    }
    return report;
}

std::vector<TableNeed> exposure_needs(const MethodModels& models) {
    std::vector<TableNeed> needs(always_needed.begin(), always_needed.end());
    if (models.service_cycle) {
        needs.insert(needs.end(), cycle_needs.begin(), cycle_needs.end());
    }
    if (models.derived_driver) {
        needs.insert(needs.end(), driver_needs.begin(), driver_needs.end());
    }
    return needs;
}

ExposureRules exposure_rules(const RuleSet& rules, const Plant& plant) {
    ExposureRules taken;
    taken.base_rate = &rules.curve("base_rate");
    const MethodModels models = models_of(rules);
    taken.service_cycle = models.service_cycle;
    taken.derived_driver = models.derived_driver;
    if (models.jacket_findings) taken.condition_of_damage = &rules.lookup(damage_need.name);
    if (!taken.service_cycle) return taken;
    taken.service_kinds = kinds_of(rules.vocabulary("service"));
    taken.heating_ramp_share = rules.value("heating_ramp_share").value();
    taken.dew_point_band_k = rules.value("dew_point_band").value();
    taken.crossing_band_k = rules.value("crossing_band").value();
    taken.susceptible_from_degc = rules.value("susceptible_from").value();
    taken.susceptible_to_degc = rules.value("susceptible_to").value();
    taken.conductivity = &rules.curve("insulation_conductivity");
    taken.emissivity = &rules.lookup("jacket_emissivity");
    taken.wet_fraction = &rules.lookup("wet_fraction");
    taken.wet_exponent = rules.value("wet_conductivity_exponent").value();
    taken.steel_conductivity = &rules.lookup("steel_conductivity");
    taken.touch_limit_degc = rules.value("touch_limit").value();
    taken.vertical = rules.vocabulary("orientation").code("vertical").value_or(255);
    taken.air = air_of(rules, plant);
    if (taken.derived_driver) {
        taken.driver_by_condensing = &rules.curve("driver_by_condensing");
        taken.driver_of_tracing = &rules.lookup("driver_of_tracing");
        taken.severe_from_per_year = rules.value("severe_from_cycles").value();
        taken.drivers = drivers_of(rules, plant);
    }
    return taken;
}

}  // namespace lagline
