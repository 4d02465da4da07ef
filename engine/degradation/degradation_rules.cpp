#include <array>

#include "degradation/degradation.h"

namespace lagline {
namespace {

constexpr std::array wall_needs{
    TableNeed{.name = "material_family",
              .kind = TableKind::lookup,
              .by = "material",
              .gives = "material_family"},
    TableNeed{.name = "wall_loss_of_family",
              .kind = TableKind::lookup,
              .by = "material_family",
              .gives = "yes_no"},
    TableNeed{.name = "coating_model", .kind = TableKind::value, .gives = "coating_model"},
    TableNeed{.name = "base_rate",
              .kind = TableKind::curves,
              .dimension = Dimension::corrosion_rate,
              .by = "driver",
              .axis = "metal_temperature"},
    TableNeed{.name = "insulation_factor", .kind = TableKind::lookup, .by = "insulation_type"},
    TableNeed{.name = "complexity_factor", .kind = TableKind::lookup, .by = "complexity"},
    TableNeed{.name = "condition_factor", .kind = TableKind::lookup, .by = "insulation_condition"},
    TableNeed{.name = "pooling_factor", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "interface_factor", .kind = TableKind::lookup, .by = "yes_no"},
    TableNeed{.name = "coating_life",
              .kind = TableKind::lookup,
              .dimension = Dimension::time,
              .by = "coating_quality"},
    TableNeed{.name = "coating_quality",
              .kind = TableKind::lookup,
              .by = "coating_system",
              .gives = "coating_quality"},
    TableNeed{.name = "coating_failed_rust_grade", .kind = TableKind::value},
    TableNeed{.name = "whole_coat_share", .kind = TableKind::value},
    TableNeed{.name = "earlier_coat", .kind = TableKind::value, .gives = "earlier_coat"},
    TableNeed{.name = "inspection_effectiveness",
              .kind = TableKind::bands,
              .by = "technique",
              .axis = "coverage",
              .gives = "effectiveness"},
    TableNeed{.name = "rate_model", .kind = TableKind::value, .gives = "rate_model"},
};

constexpr std::array measured_needs{
    TableNeed{.name = "measured_rate_accepted",
              .kind = TableKind::lookup,
              .by = "effectiveness",
              .gives = "yes_no"},
    TableNeed{.name = "measured_rate_floor", .kind = TableKind::value},
    TableNeed{.name = "exposed_share_least", .kind = TableKind::value},
    TableNeed{.name = "pit_depth_scatter", .kind = TableKind::value},
    TableNeed{.name = "surface_share_least", .kind = TableKind::value},
    TableNeed{.name = "mill_tolerance", .kind = TableKind::value},
};

constexpr std::array cracking_needs{
    TableNeed{.name = "scc_susceptibility",
              .kind = TableKind::bands,
              .by = "driver",
              .axis = "metal_temperature",
              .gives = "susceptibility"},
    TableNeed{.name = "scc_susceptibility_degf",
              .kind = TableKind::bands,
              .by = "driver",
              .axis = "metal_temperature",
              .gives = "susceptibility"},
    TableNeed{.name = "scc_severity",
              .kind = TableKind::lookup,
              .by = "susceptibility",
              .gives = "severity_index"},
    TableNeed{.name = "scc_complexity_step", .kind = TableKind::lookup, .by = "complexity"},
    TableNeed{
        .name = "scc_condition_step", .kind = TableKind::lookup, .by = "insulation_condition"},
    TableNeed{.name = "scc_insulation_step", .kind = TableKind::lookup, .by = "insulation_type"},
};

constexpr TableNeed duplex_table{.name = "scc_susceptibility_duplex",
                                 .kind = TableKind::bands,
                                 .by = "driver",
                                 .axis = "metal_temperature",
                                 .gives = "susceptibility"};

constexpr std::array cycle_needs{
    TableNeed{.name = "cycling_factor", .kind = TableKind::curves, .axis = "cycles_per_year"},
    TableNeed{.name = "dew_cycling_factor", .kind = TableKind::curves, .axis = "cycles_per_year"},
    TableNeed{.name = "dew_cycling_most", .kind = TableKind::value},
    TableNeed{.name = "boiling_band",
              .kind = TableKind::value,
              .dimension = Dimension::temperature_difference},
    TableNeed{.name = "weather_jacket_factor", .kind = TableKind::lookup, .by = "jacket"},
    TableNeed{.name = "insulation_age_factor", .kind = TableKind::curves, .axis = "insulation_age"},
    TableNeed{.name = "orientation_factor", .kind = TableKind::lookup, .by = "orientation"},
    TableNeed{
        .name = "boiling_point", .kind = TableKind::value, .dimension = Dimension::temperature},
};

// The tables that crack a material of a family, where the rules have one.
SusceptibilityTables susceptibility_of(const RuleSet& rules, std::string_view family) {
    if (family == "austenitic") {
        return {&rules.band("scc_susceptibility"), &rules.band("scc_susceptibility_degf")};
    }
    const auto duplex = rules.bands.find("scc_susceptibility_duplex");
    const bool there = family == "duplex" && duplex != rules.bands.end();
    return {there ? &duplex->second : nullptr, nullptr};
}

}  // namespace

const TableNeed& duplex_need() { return duplex_table; }

std::vector<TableNeed> degradation_needs(const MethodModels& models) {
    std::vector<TableNeed> needs(wall_needs.begin(), wall_needs.end());
    needs.insert(needs.end(), cracking_needs.begin(), cracking_needs.end());
    const auto readings = reading_needs();
    needs.insert(needs.end(), readings.begin(), readings.end());
    const auto cracks = crack_history_needs();
    needs.insert(needs.end(), cracks.begin(), cracks.end());
    if (models.service_cycle) {
        needs.insert(needs.end(), cycle_needs.begin(), cycle_needs.end());
    }
    if (models.measured_rate) {
        needs.insert(needs.end(), measured_needs.begin(), measured_needs.end());
    }
    if (models.life_model) {
        const auto life = coating_life_needs();
        needs.insert(needs.end(), life.begin(), life.end());
    }
    return needs;
}

DegradationRules degradation_rules(const RuleSet& rules, const Plant& plant) {
    DegradationRules taken;
    taken.base_rate = &rules.curve("base_rate");
    taken.insulation = &rules.lookup("insulation_factor");
    taken.complexity = &rules.lookup("complexity_factor");
    taken.condition = &rules.lookup("condition_factor");
    taken.pooling = &rules.lookup("pooling_factor");
    taken.interface_factor = &rules.lookup("interface_factor");
    taken.coating_life = &rules.lookup("coating_life");
    taken.site_factors = site_factor_columns(rules, plant);
    taken.history = history_rules(rules);
    const MethodModels models = models_of(rules);
    if (models.service_cycle) {
        taken.cycling = &rules.curve("cycling_factor");
        taken.dew_cycling = &rules.curve("dew_cycling_factor");
        taken.dew_cycling_most = rules.value("dew_cycling_most").value();
        taken.boiling_band_k = rules.value("boiling_band").value();
        taken.weather_jacket = &rules.lookup("weather_jacket_factor");
        taken.insulation_age = &rules.curve("insulation_age_factor");
        taken.orientation = &rules.lookup("orientation_factor");
        taken.boiling_degc = rules.value("boiling_point").value();
    }
    if (models.life_model) {
        taken.life = coating_life_rules(rules, plant);
    }
    if (models.measured_rate) {
        taken.measured = {
            &rules.lookup("measured_rate_accepted"),
            rules.value("measured_rate_floor").value(),
            rules.value("exposed_share_least").value(),
            rules.value("pit_depth_scatter").value(),
            rules.value("surface_share_least").value(),
            {&rules.lookup("reading_tolerance"), rules.value("mill_tolerance").value()}};
    }
    const LookupTable& family = rules.lookup("material_family");
    for (const RuleEntry& entry : family.entries) {
        taken.loses_wall.push_back(rules.lookup("wall_loss_of_family").code(entry.code) != 0);
        taken.susceptibility.push_back(susceptibility_of(rules, entry.word));
    }
    taken.cracks = crack_rules(rules);
    taken.drivers = static_cast<std::uint8_t>(rules.vocabulary("driver").words.size());
    taken.severity = &rules.lookup("scc_severity");
    taken.complexity_step = &rules.lookup("scc_complexity_step");
    taken.condition_step = &rules.lookup("scc_condition_step");
    taken.insulation_step = &rules.lookup("scc_insulation_step");
    taken.worst_susceptibility =
        static_cast<std::uint8_t>(rules.vocabulary("susceptibility").words.size() - 1);
    return taken;
}

}  // namespace lagline
