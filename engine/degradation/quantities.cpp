#include <array>

#include "degradation/degradation.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_581 = "API RP 581, 3rd edition, Part 2, section 16";
constexpr Key api_581_recalled = "API RP 581, 3rd edition, Part 2, section 16 (recalled)";
constexpr Key cracking_source = "API RP 581, 3rd edition, Part 2, section 18, Table 18.2";

// What a quantity is made of, and the tables it reads.
constexpr std::array base_rate_inputs{Key{"metal_temperature"},
                                      Key{"driver"},
                                      Key{"driver_level"},
                                      Key{"operating_temperature"},
                                      Key{"service"},
                                      Key{"temperature_low"},
                                      Key{"temperature_high"},
                                      Key{"hot_fraction"},
                                      Key{"cycles_per_year"},
                                      Key{"standby_fraction"},
                                      Key{"standby_temperature"},
                                      Key{"cooling_ramp"},
                                      Key{"dead_leg_decay"},
                                      Key{"mean_temperature"}};
constexpr std::array single_rate_inputs{Key{"metal_temperature"}, Key{"driver"}};
constexpr std::array base_rate_tables{Key{"base_rate"}, Key{"heating_ramp_share"},
                                      Key{"standby_default"}, Key{"ambient_temperature"}};
constexpr std::array single_rate_tables{Key{"base_rate"}};
constexpr std::array outside_tables{Key{"base_rate"},
                                    Key{"heating_ramp_share"},
                                    Key{"standby_default"},
                                    Key{"ambient_temperature"},
                                    Key{"scc_susceptibility"},
                                    Key{"scc_susceptibility_degf"},
                                    Key{"scc_susceptibility_duplex"}};
constexpr std::array insulation_inputs{Key{"insulation_type"}};
constexpr std::array insulation_tables{Key{"insulation_factor"}};
constexpr std::array complexity_inputs{Key{"complexity"}};
constexpr std::array complexity_tables{Key{"complexity_factor"}};
constexpr std::array condition_inputs{Key{"insulation_condition"}};
constexpr std::array condition_tables{Key{"condition_factor"}};
constexpr std::array pooling_inputs{Key{"pooling"}};
constexpr std::array pooling_tables{Key{"pooling_factor"}};
constexpr std::array interface_inputs{Key{"ground_or_water_interface"}};
constexpr std::array interface_tables{Key{"interface_factor"}};
constexpr std::array rate_inputs{Key{"base_rate"},         Key{"insulation_factor"},
                                 Key{"complexity_factor"}, Key{"condition_factor"},
                                 Key{"pooling_factor"},    Key{"interface_factor"},
                                 Key{"site_factor"}};
// With the service cycle:
constexpr std::array cycle_rate_inputs{Key{"base_rate"},
                                       Key{"insulation_factor"},
                                       Key{"complexity_factor"},
                                       Key{"condition_factor"},
                                       Key{"pooling_factor"},
                                       Key{"interface_factor"},
                                       Key{"cycling_factor"},
                                       Key{"weather_jacket_factor"},
                                       Key{"insulation_age_factor"},
                                       Key{"orientation_factor"},
                                       Key{"site_factor"}};
constexpr std::array used_rate_inputs{
    Key{"table_rate"},     Key{"measured_rate"},          Key{"greatest_measured_rate"},
    Key{"surface_factor"}, Key{"measured_rate_accepted"}, Key{"time_since_wall"}};
constexpr std::array used_rate_tables{Key{"rate_model"}, Key{"measured_rate_floor"},
                                      Key{"rate_interval_least"}};
constexpr std::array table_rate_tables{Key{"rate_model"}};
// A reading counts by its technique and the readings before it, or because it lies below what the
// table and the coating let expect: the wall, its day and all rates hang on each of these.
constexpr std::array wall_inputs{Key{"nominal_wall"},
                                 Key{"in_service"},
                                 Key{"least_thickness"},
                                 Key{"pit_depth"},
                                 Key{"readings"},
                                 Key{"table_rate"},
                                 Key{"coating_scale"},
                                 Key{"coating_shape"},
                                 Key{"coating_life"},
                                 Key{"coating_date"},
                                 Key{"coating_findings"},
                                 Key{"place_life_factor"},
                                 Key{"application_life_factor"}};
constexpr std::array wall_by_table_inputs{Key{"nominal_wall"},
                                          Key{"in_service"},
                                          Key{"least_thickness"},
                                          Key{"pit_depth"},
                                          Key{"readings"},
                                          Key{"corrosion_rate"},
                                          Key{"coating_scale"},
                                          Key{"coating_shape"},
                                          Key{"coating_life"},
                                          Key{"coating_date"},
                                          Key{"coating_findings"},
                                          Key{"place_life_factor"},
                                          Key{"application_life_factor"}};
constexpr std::array wall_tables{Key{"inspection_effectiveness"},
                                 Key{"reading_accepted"},
                                 Key{"reading_tolerance"},
                                 Key{"growing_reading"},
                                 Key{"sound_rust_grade"},
                                 Key{"coating_failed_rust_grade"},
                                 Key{"earlier_coat"},
                                 Key{"whole_coat_share"}};
constexpr std::array since_wall_inputs{Key{"in_service"},        Key{"date"},
                                       Key{"nominal_wall"},      Key{"readings"},
                                       Key{"table_rate"},        Key{"coating_scale"},
                                       Key{"coating_shape"},     Key{"coating_life"},
                                       Key{"coating_date"},      Key{"coating_findings"},
                                       Key{"place_life_factor"}, Key{"application_life_factor"}};
constexpr std::array since_wall_by_table_inputs{
    Key{"in_service"},        Key{"date"},
    Key{"nominal_wall"},      Key{"readings"},
    Key{"corrosion_rate"},    Key{"coating_scale"},
    Key{"coating_shape"},     Key{"coating_life"},
    Key{"coating_date"},      Key{"coating_findings"},
    Key{"place_life_factor"}, Key{"application_life_factor"}};

constexpr std::array cycling_inputs{Key{"cycles_per_year"},    Key{"highest_temperature"},
                                    Key{"lowest_temperature"}, Key{"dew_point_crossing"},
                                    Key{"base_rate"},          Key{"driver_level"}};
constexpr std::array cycling_tables{Key{"cycling_factor"},   Key{"dew_cycling_factor"},
                                    Key{"dew_cycling_most"}, Key{"boiling_point"},
                                    Key{"boiling_band"},     Key{"base_rate"}};
constexpr std::array jacket_inputs{Key{"jacket"}};
constexpr std::array jacket_tables{Key{"weather_jacket_factor"}};
constexpr std::array age_inputs{Key{"insulation_installed"}, Key{"in_service"}};
constexpr std::array age_factor_inputs{Key{"insulation_age"}};
constexpr std::array age_tables{Key{"insulation_age_factor"}};
constexpr std::array orientation_inputs{Key{"orientation"}};
constexpr std::array orientation_tables{Key{"orientation_factor"}};
constexpr std::array level_inputs{Key{"driver"},
                                  Key{"material"},
                                  Key{"metal_temperature"},
                                  Key{"operating_temperature"},
                                  Key{"service"},
                                  Key{"temperature_low"},
                                  Key{"temperature_high"},
                                  Key{"hot_fraction"},
                                  Key{"cycles_per_year"},
                                  Key{"standby_fraction"},
                                  Key{"standby_temperature"},
                                  Key{"cooling_ramp"},
                                  Key{"dead_leg_decay"},
                                  Key{"mean_temperature"}};
constexpr std::array level_tables{Key{"scc_susceptibility"},        Key{"scc_susceptibility_degf"},
                                  Key{"scc_susceptibility_duplex"}, Key{"material_family"},
                                  Key{"heating_ramp_share"},        Key{"standby_default"},
                                  Key{"ambient_temperature"}};
constexpr std::array one_level_inputs{Key{"driver"}, Key{"material"}, Key{"metal_temperature"}};
constexpr std::array one_level_tables{Key{"scc_susceptibility"}, Key{"scc_susceptibility_degf"},
                                      Key{"scc_susceptibility_duplex"}, Key{"material_family"}};
constexpr std::array step_inputs{Key{"complexity"}, Key{"insulation_condition"},
                                 Key{"insulation_type"}};
constexpr std::array step_tables{Key{"scc_complexity_step"}, Key{"scc_condition_step"},
                                 Key{"scc_insulation_step"}};
constexpr std::array severity_inputs{Key{"susceptibility"}, Key{"susceptibility_steps"},
                                     Key{"cracks_found"}};
constexpr std::array crack_inputs{Key{"in_service"}, Key{"crack_findings"}};
constexpr std::array crack_tables{Key{"crack_inspection_effectiveness"},
                                  Key{"crack_finding_cleared"}};
constexpr std::array crack_time_inputs{Key{"in_service"}, Key{"crack_findings"}};
constexpr std::array crack_time_tables{Key{"crack_inspection_effectiveness"},
                                       Key{"crack_inspection_accepted"},
                                       Key{"crack_finding_cleared"}};

constexpr QuantityInfo factor_info(Key key, Key symbol, Key meaning, Barrier barrier,
                                   std::span<const Key> inputs, std::span<const Key> tables) {
    return number_info(key, "", symbol, "eq. 3", "factor by table", api_581_recalled, meaning,
                       barrier, inputs, tables);
}

constexpr QuantityInfo base_info(std::span<const Key> inputs, std::span<const Key> tables) {
    return number_info(
        "base_rate", "mm/y", "C_rB", "eq. 2",
        "sum over the levels of share x rate, straight between the printed temperatures",
        "API RP 581, 3rd edition, Part 2, Table 16.2",
        "corrosion rate by temperature and driver before adjustment", Barrier::material, inputs,
        tables);
}
constexpr auto base_rate_info = base_info(base_rate_inputs, base_rate_tables);
constexpr auto single_rate_info = base_info(single_rate_inputs, single_rate_tables);
constexpr auto insulation_info = factor_info("insulation_factor", "F_INS", "insulation material",
                                             Barrier::water, insulation_inputs, insulation_tables);
constexpr auto complexity_info =
    factor_info("complexity_factor", "F_CM", "penetrations, branches and supports", Barrier::design,
                complexity_inputs, complexity_tables);
constexpr auto condition_info =
    factor_info("condition_factor", "F_IC", "condition of insulation and jacket", Barrier::water,
                condition_inputs, condition_tables);
constexpr auto pooling_info = factor_info("pooling_factor", "F_EQ", "water pools on the metal",
                                          Barrier::design, pooling_inputs, pooling_tables);
constexpr auto interface_info = factor_info("interface_factor", "F_IF", "soil or water interface",
                                            Barrier::design, interface_inputs, interface_tables);
constexpr auto cycling_info =
    number_info("cycling_factor", "", "F_cyc", "eq. 104",
                "by cycles a year that pass the boiling point or the dew point",
                "common practice; API RP 581, Part 2, section 16 names such lines",
                "repeated wetting and drying", Barrier::water, cycling_inputs, cycling_tables);
constexpr auto jacket_info =
    number_info("weather_jacket_factor", "", "F_JKT", "eq. 3", "factor by table", "common practice",
                "how well the jacket keeps rain out", Barrier::water, jacket_inputs, jacket_tables);
constexpr auto age_info = number_info(
    "insulation_age", "y", "a_ins", "eq. 105",
    "rank date - day of the present insulation, else - day in service", "docs/method.md, section 3",
    "age of the insulation and its seals", Barrier::water, age_inputs);
constexpr auto age_factor_info = number_info(
    "insulation_age_factor", "", "F_AGE", "eq. 105", "factor by table", "common practice",
    "seals and jacket grow old", Barrier::water, age_factor_inputs, age_tables);
constexpr auto orientation_info =
    number_info("orientation_factor", "", "F_OR", "eq. 3", "factor by table", "common practice",
                "water runs down to the low point of a run", Barrier::design, orientation_inputs,
                orientation_tables);
constexpr auto site_info = number_info(
    "site_factor", "", "F_site", "eq. 3", "product of the site's own factors; 1 when it has none",
    "site overlay", "factors of the site's own", Barrier::design, {});
constexpr auto rate_info = number_info("corrosion_rate", "mm/y", "C_r", "eq. 3",
                                       "C_r = C_rB F_INS F_CM F_IC max(F_EQ, F_IF) F_site", api_581,
                                       "corrosion rate of unprotected steel under this insulation",
                                       Barrier::damage, rate_inputs, table_rate_tables);
constexpr Key cycle_rate_formula =
    "C_rB F_INS F_CM F_IC max(F_EQ, F_IF) F_cyc F_JKT F_AGE F_OR F_site";
constexpr auto cycle_rate_info =
    number_info("corrosion_rate", "mm/y", "C_r", "eq. 3", cycle_rate_formula, api_581,
                "corrosion rate of unprotected steel under this insulation", Barrier::damage,
                cycle_rate_inputs, table_rate_tables);
constexpr auto cycle_table_rate_info = number_info(
    "table_rate", "mm/y", "C_tab", "eq. 3", cycle_rate_formula, api_581,
    "corrosion rate of unprotected steel by the tables", Barrier::damage, cycle_rate_inputs);
constexpr auto table_rate_info = number_info(
    "table_rate", "mm/y", "C_tab", "eq. 3", "C_tab = C_rB F_INS F_CM F_IC max(F_EQ, F_IF) F_site",
    api_581, "corrosion rate of unprotected steel by the tables", Barrier::damage, rate_inputs);
constexpr auto used_rate_info = number_info(
    "corrosion_rate", "mm/y", "C_r", "eq. 47",
    "accepted: max(C_m F_surf, floor C_tab, min(C_tab, C_M F_surf)); else max(C_m F_surf, C_tab); "
    "C_tab without readings",
    "docs/method.md, section 4", "corrosion rate of unprotected steel that is used",
    Barrier::damage, used_rate_inputs, used_rate_tables);
constexpr QuantityInfo wall_thickness_info(std::span<const Key> inputs) {
    return number_info("wall_thickness", "mm", "t_rde", "eq. 4",
                       "last reading that counts, else nominal wall", api_581,
                       "wall when it was last known", Barrier::damage, inputs, wall_tables);
}
constexpr auto wall_info = wall_thickness_info(wall_inputs);
constexpr auto wall_by_table_info = wall_thickness_info(wall_by_table_inputs);
constexpr QuantityInfo time_info(std::span<const Key> inputs) {
    return number_info("time_since_wall", "y", "age_tke", "eq. 4",
                       "rank date - day of the reading, else - day in service", api_581_recalled,
                       "time since the wall was last known", Barrier::damage, inputs, wall_tables);
}
constexpr auto since_wall_info = time_info(since_wall_inputs);
constexpr auto since_wall_by_table_info = time_info(since_wall_by_table_inputs);
constexpr auto outside_info = word_info(
    "outside_range", "yes_no", "outside", "section 9", "a table was used outside its validity",
    "rule set, `valid` and `outside`", "temperature or size outside the range of a table",
    Barrier::damage, base_rate_inputs, outside_tables);

/// What governs cracking, by the levels of the cycle or by the one temperature.
struct GoverningInfos {
    QuantityInfo level, share, susceptibility;
};
constexpr GoverningInfos governing_infos(std::span<const Key> inputs, std::span<const Key> tables) {
    return {
        number_info("governing_temperature", "degC", "T_g", "eq. 38",
                    "level of greatest susceptibility", cracking_source,
                    "temperature that governs cracking", Barrier::material, inputs, tables),
        number_info("governing_share", "", "w_g", "eq. 38", "share of the year at that temperature",
                    "service cycle, docs/method.md",
                    "share of the year at the governing temperature", Barrier::material, inputs,
                    tables),
        word_info("susceptibility", "susceptibility", "S", "eq. 38",
                  "by temperature and driver; the graver of the columns printed in degC and degF",
                  cracking_source, "susceptibility to stress-corrosion cracking", Barrier::material,
                  inputs, tables)};
}
constexpr GoverningInfos by_levels = governing_infos(level_inputs, level_tables);
constexpr GoverningInfos by_one = governing_infos(one_level_inputs, one_level_tables);
constexpr auto step_info = number_info(
    "susceptibility_steps", "", "steps", "eq. 38", "complexity + condition + insulation",
    "API RP 581, 3rd edition, Part 2, section 18 (recalled)", "levels up or down", Barrier::design,
    step_inputs, step_tables);
constexpr auto cracks_info = word_info(
    "cracks_found", "yes_no", "cracks", "eq. 38",
    "an inspection found cracks, and none whose effectiveness clears them has said no since",
    "API RP 581, 3rd edition, Part 2, section 18", "cracks are known", Barrier::damage,
    crack_inputs, crack_tables);
constexpr std::array severity_tables{Key{"scc_severity"}};
constexpr auto severity_info =
    word_info("severity_index", "severity_index", "SVI", "eq. 39",
              "by the adjusted susceptibility; the worst where cracks were found",
              "API RP 581, 3rd edition, Part 2, section 18 (recalled)", "severity of cracking",
              Barrier::damage, severity_inputs, severity_tables);
constexpr auto crack_time_info = number_info(
    "time_since_inspection", "y", "age_crk", "eq. 40",
    "rank date - last inspection that counts and found none, else - day in service; "
    "- day in service where cracks are known",
    "API RP 581, 3rd edition, Part 2, section 18 (recalled)", "time in which cracks may have grown",
    Barrier::damage, crack_time_inputs, crack_time_tables);

}  // namespace

void WallLossColumns::resize(Eigen::Index rows, Eigen::Index ranked_rows,
                             const MethodModels& models) {
    for (Numbers* column :
         {&base_rate_mm_per_year, &insulation_factor, &complexity_factor, &condition_factor,
          &pooling_factor, &interface_factor, &site_factor, &corrosion_rate_mm_per_year,
          &wall_thickness_mm, &time_since_wall_years}) {
        make_rows(*column, rows);
    }
    if (models.service_cycle) {
        for (Numbers* column : {&cycling_factor, &weather_jacket_factor, &insulation_age_years,
                                &insulation_age_factor, &orientation_factor}) {
            make_rows(*column, rows);
        }
    }
    readings.resize(rows, models.measured_rate);
    make_rows(outside_range, ranked_rows);
    reading.assign(static_cast<std::size_t>(rows), History::nothing);
    found_failed.assign(static_cast<std::size_t>(rows), History::nothing);
}

std::vector<ColumnView> WallLossColumns::views(const MethodModels& models) const {
    std::vector<ColumnView> all{
        view(models.service_cycle ? base_rate_info : single_rate_info, base_rate_mm_per_year),
        view(insulation_info, insulation_factor),
        view(complexity_info, complexity_factor),
        view(condition_info, condition_factor),
        view(pooling_info, pooling_factor),
        view(interface_info, interface_factor)};
    const bool cycle = models.service_cycle;
    add_if(cycle, all, cycling_info, cycling_factor);
    add_if(cycle, all, jacket_info, weather_jacket_factor);
    add_if(cycle, all, age_info, insulation_age_years);
    add_if(cycle, all, age_factor_info, insulation_age_factor);
    add_if(cycle, all, orientation_info, orientation_factor);
    all.push_back(view(site_info, site_factor));
    const bool measured = models.measured_rate;
    const QuantityInfo& by_table = cycle ? cycle_table_rate_info : table_rate_info;
    add_if(measured, all, by_table, readings.table_rate_mm_per_year);
    const auto by_readings = readings.views(measured);
    all.insert(all.end(), by_readings.begin(), by_readings.end());
    const QuantityInfo& unmeasured = cycle ? cycle_rate_info : rate_info;
    for (const ColumnView& column :
         {view(measured ? used_rate_info : unmeasured, corrosion_rate_mm_per_year),
          view(measured ? wall_info : wall_by_table_info, wall_thickness_mm),
          view(measured ? since_wall_info : since_wall_by_table_info, time_since_wall_years),
          view(outside_info, outside_range)}) {
        all.push_back(column);
    }
    return all;
}

void CrackingColumns::resize(Eigen::Index rows) {
    for (Numbers* column : {&level_degc, &level_share, &steps, &time_since_inspection_years}) {
        make_rows(*column, rows);
    }
    for (Codes* column : {&susceptibility, &cracks_found, &severity}) make_rows(*column, rows);
    found_by.assign(static_cast<std::size_t>(rows), History::nothing);
    credit_begin.assign(static_cast<std::size_t>(rows), 0);
    cleared_by.assign(static_cast<std::size_t>(rows), History::nothing);
}

std::vector<ColumnView> CrackingColumns::views(std::size_t first,
                                               const MethodModels& models) const {
    const GoverningInfos& governing = models.service_cycle ? by_levels : by_one;
    std::vector<ColumnView> all{view(governing.level, level_degc),
                                view(governing.share, level_share),
                                view(governing.susceptibility, susceptibility),
                                view(step_info, steps),
                                view(cracks_info, cracks_found),
                                view(severity_info, severity),
                                view(crack_time_info, time_since_inspection_years)};
    for (ColumnView& column : all) column.first = first;
    return all;
}

}  // namespace lagline
