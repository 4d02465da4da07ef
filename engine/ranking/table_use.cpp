#include <algorithm>
#include <array>

#include "degradation/coating_life.h"
#include "ranking/explain_plant_values.h"
#include "ranking/inspections_read.h"
#include "ranking/table_arguments.h"

namespace lagline {
namespace {

using S = SegmentField;

bool among(std::string_view table, std::initializer_list<std::string_view> tables) {
    return std::ranges::find(tables, table) != tables.end();
}

}  // namespace

bool TableArguments::asked(std::string_view table, const QuantityInfo& of) const {
    if (!table_in_use(table, of.key, plant_, rules_, ranking_, row_)) return false;
    const bool cracking = row_ >= ranking_.mechanism_rows.wall_loss;
    if (table == "damage_factor_base") return !cracking;
    if (among(table, {"scc_age_exponent", "scc_damage_cap", "scc_damage_floor",
                      "crack_inspection_effectiveness"})) {
        return cracking;
    }
    if (table == "inspection_effectiveness") return !cracking;
    if (table == "known_cracks_factor") {
        const ColumnView* known = find_quantity("cracks_found");
        return known != nullptr && known->code(row_) != 0;
    }
    if (of.key == "outside_range" && table == "base_rate" && cracking) return false;
    if (of.key.starts_with("governing_") && levels_.size() < 2) return false;  // nothing to choose
    if (table.starts_with("scc_susceptibility")) {
        if (!cracking) return false;
        const std::uint8_t material = plant_.segments.codes(S::material)[segment_];
        return (rules_.lookup("material_family").entries[material].word == "duplex") ==
               (table == "scc_susceptibility_duplex");
    }
    return exposure_asked(table) && coating_asked(table, of) && weather_asked(table) &&
           history_asked(table, of);
}

// Tables that readings and gradings of the coating are held against, where there are any.
bool TableArguments::history_asked(std::string_view table, const QuantityInfo& of) const {
    if (among(table, {"growing_reading", "reading_tolerance", "rate_interval_least"})) {
        if (table == "reading_tolerance" && of.key != "conflicting_readings" &&
            of.key != "measured_rate" && of.key != "greatest_measured_rate" &&
            rules_.value("growing_reading").word() != "keep") {
            return false;
        }
        return !inspections_told(plant_, rules_, ranking_, row_, "readings").empty();
    }
    if (!among(table, {"sound_rust_grade", "coating_failed_rust_grade"})) return true;
    return !inspections_told(plant_, rules_, ranking_, row_, "coating_findings").empty();
}

bool TableArguments::exposure_asked(std::string_view table) const {
    const auto& climate = plant_.description.climate;
    if (table == "ambient_temperature" || table == "ambient_humidity") return !climate;
    if (table == "wind_speed") return !climate || !climate->wind_speed_m_per_s;
    if (table == "steel_conductivity") return has_dead_leg();
    if (table == "driver_of_drift" || table == "driver_of_deluge") {
        const auto& units = table == "driver_of_drift" ? plant_.description.cooling_tower_drift
                                                       : plant_.description.deluge_tests;
        return std::ranges::find(units, plant_.segments.texts(S::unit)[segment_]) != units.end();
    }
    if (table == "standby_default") {
        return plant_.segments.state(S::standby_fraction, segment_) == CellState::derived;
    }
    return true;
}

// Tables of a system that is known, of one that is not, and of a film that is known.
bool TableArguments::coating_asked(std::string_view table, const QuantityInfo& of) const {
    if (!ranking_.models.life_model) return true;
    const std::uint8_t system = coating_system();
    const bool unknown = rules_.vocabulary("coating_system").code("unknown") == system;
    if (table == "coating_scale" || table == "coating_shape") return !unknown;
    if (table == "quality_scale" || table == "quality_shape") return unknown;
    const double film_um = quantity("film_in_service").value_or(-1.0);
    if (of.key == "film_in_service") {
        return film_um >= 0.0 && plant_.segments.has(S::yard_storage, segment_);
    }
    if (table == "thick_film_limit") return film_um >= 0.0;
    if (of.key == "thin_film_life_factor") return film_um >= 0.0;
    if (of.key == "cracking_life_factor" && film_um < 0.0) return false;
    if (table == "cracking_factor") {
        constexpr double um_per_mm = 1e3;
        const std::uint8_t rigidity = rules_.lookup("coating_rigidity_of").code(system);
        return film_um > um_per_mm * rules_.lookup("thick_film_limit").value(rigidity);
    }
    if (table == "cold_factor") {
        const double least = rules_.lookup("coating_temperature_least").value(system);
        return quantity("lowest_temperature").value_or(least) < least;
    }
    return true;
}

// Tables of the weather in the month of application.
bool TableArguments::weather_asked(std::string_view table) const {
    if (!among(table,
               {"cure_temperature_least", "cold_cure_factor", "dew_point_margin", "dew_factor"})) {
        return true;
    }
    const CoatingLifeRules life = coating_life_rules(rules_, plant_);
    const auto month = coating_case(plant_, life, segment_, ranking_.at.date).month;
    if (!month || life.month_degc.empty()) return false;
    const double air = life.month_degc[*month];
    if (table == "cold_cure_factor") return air < life.cure_least->value(coating_system());
    if (table == "dew_factor") return air - life.month_dew_degc[*month] < life.dew_margin_k;
    return true;
}

}  // namespace lagline
