#include <array>

#include "exposure/exposure.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr std::array cycle_inputs{Key{"operating_temperature"}, Key{"service"},
                                  Key{"temperature_low"},       Key{"temperature_high"},
                                  Key{"hot_fraction"},          Key{"cycles_per_year"},
                                  Key{"standby_fraction"},      Key{"standby_temperature"},
                                  Key{"cooling_ramp"},          Key{"dead_leg_decay"},
                                  Key{"mean_temperature"}};
constexpr std::array cycle_tables{Key{"heating_ramp_share"}, Key{"standby_default"},
                                  Key{"ambient_temperature"}};
constexpr std::array level_inputs{Key{"operating_temperature"},
                                  Key{"service"},
                                  Key{"temperature_low"},
                                  Key{"temperature_high"},
                                  Key{"hot_fraction"},
                                  Key{"cycles_per_year"},
                                  Key{"standby_fraction"},
                                  Key{"standby_temperature"},
                                  Key{"cooling_ramp"},
                                  Key{"dead_leg_decay"},
                                  Key{"driver"},
                                  Key{"driver_level"},
                                  Key{"mean_temperature"}};
constexpr std::array single_inputs{Key{"operating_temperature"}};
constexpr std::array model_tables{Key{"temperature_model"}};
constexpr std::array level_tables{Key{"temperature_model"}, Key{"base_rate"},
                                  Key{"heating_ramp_share"}, Key{"standby_default"},
                                  Key{"ambient_temperature"}};
constexpr std::array ramp_inputs{Key{"ramp_time"}, Key{"transmittance"}, Key{"outside_diameter"},
                                 Key{"nominal_wall"}, Key{"insulation_thickness"}};
constexpr std::array crossing_inputs{Key{"temperature_low"},       Key{"temperature_high"},
                                     Key{"operating_temperature"}, Key{"service"},
                                     Key{"hot_fraction"},          Key{"cycles_per_year"},
                                     Key{"standby_fraction"},      Key{"standby_temperature"},
                                     Key{"mean_temperature"},      Key{"relative_humidity"}};
constexpr std::array crossing_tables{Key{"crossing_band"}, Key{"ambient_humidity"},
                                     Key{"ambient_temperature"}};
constexpr std::array driver_inputs{Key{"driver"}};
constexpr std::array weather_inputs{Key{"driver"}, Key{"rainfall_driver"}, Key{"coast_driver"},
                                    Key{"site_driver"}};
constexpr std::array derived_inputs{Key{"weather_driver"}, Key{"sweating_driver"},
                                    Key{"cycling_driver"}, Key{"tracing_driver"},
                                    Key{"driver_level"}};
// The words are rounded; the level is not.
constexpr std::array driver_level_inputs{Key{"weather_driver"}, Key{"tracing_driver"},
                                         Key{"condensing_months"}, Key{"dew_point_crossing"},
                                         Key{"cycles_per_year"}};
constexpr std::array driver_level_tables{Key{"driver_by_condensing"}, Key{"severe_from_cycles"}};
constexpr std::array cycling_driver_inputs{Key{"dew_point_crossing"}, Key{"cycles_per_year"}};
constexpr std::array cycling_driver_tables{Key{"severe_from_cycles"}};
constexpr std::array tracing_inputs{Key{"heat_tracing"}};
constexpr std::array tracing_tables{Key{"driver_of_tracing"}};
constexpr std::array condensing_inputs{Key{"operating_temperature"}, Key{"temperature_low"},
                                       Key{"service"}, Key{"mean_temperature"},
                                       Key{"relative_humidity"}};
constexpr std::array condensing_tables{Key{"dew_point_band"}, Key{"ambient_humidity"},
                                       Key{"ambient_temperature"}};
constexpr std::array driver_tables{Key{"driver_model"}};
constexpr std::array susceptible_tables{Key{"susceptible_from"}, Key{"susceptible_to"},
                                        Key{"heating_ramp_share"}, Key{"standby_default"},
                                        Key{"ambient_temperature"}};
constexpr std::array leg_inputs{Key{"dead_leg_length"},
                                Key{"transmittance"},
                                Key{"nominal_wall"},
                                Key{"outside_diameter"},
                                Key{"material"},
                                Key{"driver"},
                                Key{"operating_temperature"},
                                Key{"service"},
                                Key{"temperature_low"},
                                Key{"temperature_high"},
                                Key{"hot_fraction"},
                                Key{"cycles_per_year"},
                                Key{"standby_fraction"},
                                Key{"standby_temperature"},
                                Key{"cooling_ramp"},
                                Key{"driver_level"},
                                Key{"mean_temperature"}};
constexpr std::array leg_tables{Key{"base_rate"}, Key{"steel_conductivity"},
                                Key{"heating_ramp_share"}, Key{"standby_default"},
                                Key{"ambient_temperature"}};
constexpr std::array decay_inputs{Key{"dead_leg_length"},  Key{"dead_leg_station"},
                                  Key{"transmittance"},    Key{"nominal_wall"},
                                  Key{"outside_diameter"}, Key{"material"}};
constexpr std::array decay_tables{Key{"steel_conductivity"}};
constexpr std::array heat_inputs{Key{"operating_temperature"},
                                 Key{"outside_diameter"},
                                 Key{"insulation_type"},
                                 Key{"insulation_thickness"},
                                 Key{"jacket"},
                                 Key{"orientation"},
                                 Key{"vertical_length"},
                                 Key{"insulation_wet"},
                                 Key{"mean_temperature"},
                                 Key{"wind_speed"}};
constexpr std::array heat_tables{
    Key{"insulation_conductivity"},   Key{"jacket_emissivity"}, Key{"wet_fraction"},
    Key{"wet_conductivity_exponent"}, Key{"wind_speed"},        Key{"ambient_temperature"}};
constexpr std::array bare_inputs{Key{"operating_temperature"}, Key{"outside_diameter"},
                                 Key{"mean_temperature"}, Key{"wind_speed"}};
constexpr std::array bare_tables{Key{"wind_speed"}, Key{"ambient_temperature"}};
constexpr std::array sweating_inputs{Key{"operating_temperature"}, Key{"mean_temperature"},
                                     Key{"relative_humidity"}};
constexpr std::array jacket_sweating_inputs{Key{"operating_temperature"},
                                            Key{"outside_diameter"},
                                            Key{"insulation_type"},
                                            Key{"insulation_thickness"},
                                            Key{"jacket"},
                                            Key{"orientation"},
                                            Key{"vertical_length"},
                                            Key{"insulation_wet"},
                                            Key{"mean_temperature"},
                                            Key{"wind_speed"},
                                            Key{"relative_humidity"}};
constexpr std::array jacket_sweating_tables{Key{"insulation_conductivity"},
                                            Key{"jacket_emissivity"}, Key{"wet_fraction"},
                                            Key{"wet_conductivity_exponent"}, Key{"wind_speed"}};
constexpr std::array need_inputs{Key{"insulation_purpose"}, Key{"highest_temperature"},
                                 Key{"lowest_temperature"}, Key{"mean_temperature"},
                                 Key{"relative_humidity"}};
constexpr std::array need_tables{Key{"touch_limit"}, Key{"ambient_temperature"}};
constexpr std::array rainfall_inputs{Key{"rainfall"}};
constexpr std::array coast_inputs{Key{"coast_distance"}};
constexpr std::array rainfall_tables{Key{"driver_by_rainfall"}};
constexpr std::array coast_tables{Key{"driver_by_coast"}};
constexpr std::array site_inputs{Key{"unit"}, Key{"cooling_tower_drift"}, Key{"deluge_tests"}};
constexpr std::array site_tables{Key{"driver_of_drift"}, Key{"driver_of_deluge"}};
constexpr std::array sweating_driver_inputs{Key{"condensing_months"}};
constexpr std::array sweating_tables{Key{"driver_by_condensing"}};
constexpr std::array condition_inputs{Key{"insulation_condition"}, Key{"insulation_installed"},
                                      Key{"jacket_damage"}};
constexpr std::array condition_tables{Key{"condition_of_jacket_damage"}};

constexpr Key heat_source = "ISO 12241 / ASTM C680 form; surface coefficients ISO 12241 (recalled)";
constexpr Key driver_source =
    "API RP 581, 3rd edition, Part 2, section 16: definitions of the drivers";

constexpr auto single_info =
    number_info("metal_temperature", "degC", "T", "eq. 1", "T = operating temperature",
                "API RP 581, 3rd edition, Part 2, section 16: one operating temperature",
                "temperature of the metal under the insulation", Barrier::material, single_inputs,
                model_tables);
constexpr auto level_info = number_info(
    "metal_temperature", "degC", "T", "eq. 1", "level with the greatest share x rate",
    "service cycle, docs/method.md", "temperature level that the wall loss owes most to",
    Barrier::material, level_inputs, level_tables);
constexpr auto given_driver_info = word_info("driver", "driver", "driver", "section 2", "as given",
                                             driver_source, "what wets the insulation from outside",
                                             Barrier::water, driver_inputs, driver_tables);
constexpr auto derived_driver_info =
    word_info("driver", "driver", "driver", "section 2",
              "the worst of weather, sweating, cycling and tracing", driver_source,
              "what wets the insulation", Barrier::water, derived_inputs, driver_tables);
constexpr auto susceptible_info = number_info(
    "susceptible_share", "", "w_s", "eq. 1", "sum of the shares inside the susceptible band",
    "API RP 581, 3rd edition, Part 2, section 16", "share of the year at temperatures that corrode",
    Barrier::material, cycle_inputs, susceptible_tables);
constexpr auto highest_info =
    number_info("highest_temperature", "degC", "T_max", "eq. 1", "highest level or end",
                "service cycle, docs/method.md", "highest metal temperature of the cycle",
                Barrier::material, cycle_inputs, cycle_tables);
constexpr auto lowest_info =
    number_info("lowest_temperature", "degC", "T_min", "eq. 1", "lowest level or end",
                "service cycle, docs/method.md", "lowest metal temperature of the cycle",
                Barrier::material, cycle_inputs, cycle_tables);
constexpr auto station_info = number_info(
    "dead_leg_station", "m", "x", "eq. 32",
    "where T_a + (T_0 - T_a) cosh(m(L-x)) / cosh(mL) corrodes fastest, m^2 = U_l / (k A)",
    "fin with an insulated tip, Incropera, Table 3.4 (recalled)",
    "distance from the header of the worst place of a dead leg", Barrier::design, leg_inputs,
    leg_tables);
constexpr auto decay_info = number_info(
    "dead_leg_decay", "", "k_x", "eq. 32", "cosh(m(L-x)) / cosh(mL); 1 without a dead leg",
    "fin with an insulated tip, Incropera, Table 3.4 (recalled)",
    "share of the header's excess over the air that is left at that place", Barrier::design,
    decay_inputs, decay_tables);
constexpr auto loss_info = number_info(
    "heat_loss", "W/m", "q", "eq. 27", "(T - T_a) / (insulation + surface resistance)", heat_source,
    "heat lost through the insulation", Barrier::design, heat_inputs, heat_tables);
constexpr auto bare_info = number_info(
    "bare_heat_loss", "W/m", "q_0", "eq. 27", "the same without insulation", heat_source,
    "heat the bare pipe would lose", Barrier::design, bare_inputs, bare_tables);
constexpr auto jacket_info = number_info(
    "jacket_temperature", "degC", "T_s", "eq. 27", "T_a + q x surface resistance, iterated",
    heat_source, "temperature of the jacket", Barrier::design, heat_inputs, heat_tables);
constexpr auto transmittance_info = number_info(
    "transmittance", "W/m/K", "U_l", "eq. 27", "1 / (insulation + surface resistance)", heat_source,
    "linear transmittance of the insulated pipe", Barrier::design, heat_inputs, heat_tables);
constexpr auto jacket_sweating_info = number_info(
    "jacket_sweating_months", "", "n_s", "eq. 25", "months with T_s below the dew point",
    "Magnus form with WMO constants", "months in which the jacket sweats", Barrier::water,
    jacket_sweating_inputs, jacket_sweating_tables);
constexpr auto steel_sweating_info =
    number_info("steel_sweating_months", "", "n_m", "eq. 25", "months with T below the dew point",
                "Magnus form with WMO constants", "months in which the steel sweats",
                Barrier::water, sweating_inputs);
constexpr auto need_info =
    word_info("insulation_need", "insulation_need", "insulation_need", "section 14",
              "by purpose, touch limit and dew point", heat_source,
              "what the insulation is needed for", Barrier::design, need_inputs, need_tables);
constexpr auto rainfall_info = word_info(
    "rainfall_driver", "driver", "rainfall_driver", "section 2", "by rain a year", driver_source,
    "driver by rainfall", Barrier::water, rainfall_inputs, rainfall_tables);
constexpr auto coast_info =
    word_info("coast_driver", "driver", "coast_driver", "section 2", "by distance to the coast",
              "common practice", "driver by the sea", Barrier::water, coast_inputs, coast_tables);
constexpr auto site_driver_info =
    word_info("site_driver", "driver", "site_driver", "section 2",
              "by cooling-tower drift and deluge tests of the unit", driver_source,
              "driver by drift and deluge", Barrier::water, site_inputs, site_tables);
constexpr auto sweating_driver_info =
    word_info("sweating_driver", "driver", "sweating_driver", "section 2",
              "by months in which water condenses on the steel", "common practice",
              "driver by condensation", Barrier::water, sweating_driver_inputs, sweating_tables);
constexpr auto weather_driver_info =
    word_info("weather_driver", "driver", "weather_driver", "section 2",
              "as entered; else the worst of rain, coast and site", driver_source,
              "driver by the weather", Barrier::water, weather_inputs, driver_tables);
constexpr auto condensing_info = number_info(
    "condensing_months", "", "n_c", "eq. 102",
    "sum over the months of (T_dew - T) / band, each from 0 to 1", "docs/method.md, section 2",
    "months of condensation on the steel, by how far it is below the dew point", Barrier::water,
    condensing_inputs, condensing_tables);
constexpr auto crossing_info =
    number_info("dew_point_crossing", "", "m_dew", "eq. 103",
                "share of the band below the dew point x share of the band above it",
                "docs/method.md, section 13", "how fully the cycle passes the dew point",
                Barrier::water, crossing_inputs, crossing_tables);
constexpr auto cycling_driver_info =
    word_info("cycling_driver", "driver", "cycling_driver", "section 2",
              "severe where the cycle passes the dew point often", "API RP 581, Part 2, section 16",
              "driver by cycling through the dew point", Barrier::water, cycling_driver_inputs,
              cycling_driver_tables);
constexpr auto tracing_driver_info = word_info(
    "tracing_driver", "driver", "tracing_driver", "section 2", "by heat tracing", "common practice",
    "driver by leaks of tracers", Barrier::water, tracing_inputs, tracing_tables);
constexpr auto driver_level_info =
    number_info("driver_level", "", "d", "section 2",
                "least of the levels; 0 severe, 1 moderate, 2 mild, 3 dry",
                "docs/method.md, section 2", "driver as a number, with what lies between two words",
                Barrier::water, driver_level_inputs, driver_level_tables);
constexpr auto ramp_info =
    number_info("cooling_ramp", "h", "t_c", "eq. 101", "as entered; else 3 C / U_l",
                "lumped heat capacity, e.g. Incropera, section 5.1 (recalled)",
                "time of a ramp from the hot to the cold end", Barrier::material, ramp_inputs);
constexpr auto condition_info =
    word_info("insulation_condition", "insulation_condition", "IC", "eq. 49",
              "worse of the recorded condition and that of the jacket damage last found",
              "common practice", "condition of the insulation with findings of the jacket",
              Barrier::water, condition_inputs, condition_tables);

}  // namespace

void ExposureColumns::resize(Eigen::Index rows, const MethodModels& models) {
    make_rows(metal_temperature_degc, rows);
    make_rows(driver, rows);
    if (models.jacket_findings) make_rows(insulation_condition, rows);
    if (!models.service_cycle) return;
    for (Numbers* column :
         {&susceptible_share, &highest_degc, &lowest_degc, &dead_leg_station_m, &dead_leg_decay,
          &heat_loss_w_per_m, &bare_heat_loss_w_per_m, &jacket_temperature_degc,
          &transmittance_w_per_m_k, &jacket_sweating_months, &steel_sweating_months,
          &dew_point_crossing, &ramp_h}) {
        make_rows(*column, rows);
    }
    make_rows(insulation_need, rows);
    if (!models.derived_driver) return;
    for (Codes* column : {&rainfall_driver, &coast_driver, &site_driver, &weather_driver,
                          &sweating_driver, &cycling_driver, &tracing_driver}) {
        make_rows(*column, rows);
    }
    make_rows(condensing_months, rows);
    make_rows(driver_level, rows);
}

std::vector<ColumnView> ExposureColumns::views(const MethodModels& models) const {
    const bool cycle = models.service_cycle;
    const bool derived = cycle && models.derived_driver;
    std::vector<ColumnView> all{view(cycle ? level_info : single_info, metal_temperature_degc)};
    add_if(cycle, all, susceptible_info, susceptible_share);
    add_if(cycle, all, highest_info, highest_degc);
    add_if(cycle, all, lowest_info, lowest_degc);
    add_if(cycle, all, ramp_info, ramp_h);
    add_if(cycle, all, crossing_info, dew_point_crossing);
    add_if(derived, all, rainfall_info, rainfall_driver);
    add_if(derived, all, coast_info, coast_driver);
    add_if(derived, all, site_driver_info, site_driver);
    add_if(derived, all, weather_driver_info, weather_driver);
    add_if(derived, all, condensing_info, condensing_months);
    add_if(derived, all, sweating_driver_info, sweating_driver);
    add_if(derived, all, cycling_driver_info, cycling_driver);
    add_if(derived, all, tracing_driver_info, tracing_driver);
    add_if(derived, all, driver_level_info, driver_level);
    add_if(cycle, all, jacket_sweating_info, jacket_sweating_months);
    add_if(cycle, all, steel_sweating_info, steel_sweating_months);
    all.push_back(view(derived ? derived_driver_info : given_driver_info, driver));
    add_if(models.jacket_findings, all, condition_info, insulation_condition);
    add_if(cycle, all, loss_info, heat_loss_w_per_m);
    add_if(cycle, all, bare_info, bare_heat_loss_w_per_m);
    add_if(cycle, all, jacket_info, jacket_temperature_degc);
    add_if(cycle, all, transmittance_info, transmittance_w_per_m_k);
    add_if(cycle, all, station_info, dead_leg_station_m);
    add_if(cycle, all, decay_info, dead_leg_decay);
    add_if(cycle, all, need_info, insulation_need);
    return all;
}

}  // namespace lagline
