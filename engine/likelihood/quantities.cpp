#include "likelihood/likelihood.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_581 = "API RP 581, 3rd edition, Part 2, section 16";
constexpr Key api_581_recalled = "API RP 581, 3rd edition, Part 2, section 16 (recalled)";

constexpr std::array fraction_inputs{Key{"corrosion_rate"}, Key{"exposed_time"},
                                     Key{"wall_thickness"}};
constexpr std::array flow_inputs{Key{"yield_strength"}, Key{"tensile_strength"},
                                 Key{"joint_efficiency"}};
constexpr std::array flow_tables{Key{"flow_stress_factor"}};
constexpr std::array pressure_inputs{Key{"design_pressure"},  Key{"outside_diameter"},
                                     Key{"allowable_stress"}, Key{"joint_efficiency"},
                                     Key{"nominal_wall"},     Key{"corrosion_allowance"}};
constexpr std::array pressure_tables{Key{"pressure_coefficient_y"}};
constexpr std::array structural_inputs{Key{"nominal_size"}};
constexpr std::array structural_tables{Key{"structural_minimum"}};
constexpr std::array minimum_inputs{Key{"minimum_thickness"}, Key{"pressure_minimum"},
                                    Key{"structural_minimum"}};
constexpr std::array remaining_inputs{Key{"wall_thickness"}, Key{"minimum_thickness"},
                                      Key{"long_term_rate"}, Key{"short_term_rate"}};
constexpr std::array ratio_a_inputs{Key{"allowable_stress"}, Key{"joint_efficiency"},
                                    Key{"flow_stress"}, Key{"minimum_thickness"},
                                    Key{"wall_thickness"}};
constexpr std::array ratio_b_inputs{Key{"design_pressure"}, Key{"outside_diameter"},
                                    Key{"nominal_wall"}, Key{"flow_stress"}, Key{"wall_thickness"}};
constexpr std::array ratio_b_tables{Key{"strength_ratio_shape"}};
constexpr std::array ratio_inputs{Key{"strength_ratio_a"}, Key{"strength_ratio_b"}};
constexpr std::array state_inputs{Key{"data_confidence"}, Key{"inspections_a"},
                                  Key{"inspections_b"}, Key{"inspections_c"}, Key{"inspections_d"}};
constexpr std::array state_tables{Key{"prior_probability"}, Key{"conditional_probability"}};
constexpr std::array index_inputs{Key{"wall_fraction"}, Key{"strength_ratio"}, Key{"accepted_wall"},
                                  Key{"exposed_before_reading"}};
constexpr std::array at_minimum_inputs{Key{"thinnest_reading"}, Key{"minimum_thickness"}};
constexpr std::array index_tables{Key{"damage_state_factor"}, Key{"cov_thinning"},
                                  Key{"cov_flow_stress"}, Key{"cov_pressure"}};
constexpr std::array damage_inputs{Key{"state_probability_1"}, Key{"state_probability_2"},
                                   Key{"state_probability_3"}, Key{"reliability_index_1"},
                                   Key{"reliability_index_2"}, Key{"reliability_index_3"},
                                   Key{"reading_at_minimum"},  Key{"base_damage_factor"},
                                   Key{"known_cracks_factor"}, Key{"exposed_time"}};
constexpr std::array damage_tables{Key{"damage_factor_base"}, Key{"failure_at_minimum"},
                                   Key{"scc_age_exponent"}, Key{"scc_damage_cap"},
                                   Key{"scc_damage_floor"}};
constexpr std::array counted_inputs{Key{"severity_index"}, Key{"inspections_a"},
                                    Key{"inspections_b"}, Key{"inspections_c"},
                                    Key{"inspections_d"}};
constexpr std::array counted_tables{Key{"scc_base_damage_factor"}};
constexpr std::array base_damage_inputs{Key{"severity_index"}, Key{"counted_inspections"}};
constexpr std::array base_damage_tables{Key{"scc_base_damage_factor"}};
constexpr std::array known_cracks_inputs{Key{"cracks_found"}};
constexpr std::array known_cracks_tables{Key{"known_cracks_factor"}};
constexpr std::array frequency_inputs{Key{"nominal_size"}};
constexpr std::array frequency_tables{Key{"generic_frequency"}};
constexpr std::array management_inputs{Key{"management_score"}};
constexpr std::array management_tables{Key{"management_slope"}, Key{"management_offset"},
                                       Key{"management_score"}};
constexpr std::array combined_inputs{Key{"damage_factor"}, Key{"other_damage_factor"}};
constexpr std::array combined_tables{Key{"mechanism_combination"}};
constexpr std::array probability_inputs{Key{"generic_frequency"}, Key{"management_factor"},
                                        Key{"damage_factor"}, Key{"combined_damage_factor"}};
constexpr std::array probability_tables{Key{"probability_cap"}};

constexpr QuantityInfo quantity(Key key, Key unit, Key symbol, Key equation, Key formula,
                                Key source, Key meaning, std::span<const Key> inputs,
                                std::span<const Key> tables = {}) {
    return number_info(key, unit, symbol, equation, formula, source, meaning, Barrier::damage,
                       inputs, tables);
}

constexpr auto fraction_info =
    quantity("wall_fraction", "", "A_rt", "eq. 8", "A_rt = C_r age / t_rde", api_581_recalled,
             "share of the wall lost since it was last known", fraction_inputs);
constexpr auto flow_info =
    quantity("flow_stress", "MPa", "FS", "eq. 9", "FS = (YS + TS)/2 E {flow_stress_factor}",
             api_581_recalled, "stress at which the wall yields through", flow_inputs, flow_tables);
constexpr auto pressure_info =
    quantity("pressure_minimum", "mm", "t_p", "eq. 10", "t_p = P D / (2 (S E + P Y))",
             "ASME B31.3, paragraph 304.1.2, equation (3a)", "wall that the design pressure needs",
             pressure_inputs, pressure_tables);
constexpr auto structural_info =
    quantity("structural_minimum", "mm", "t_c", "eq. 11", "by nominal size",
             "API 574, default minimum structural thickness (recalled)",
             "wall that the pipe needs to carry itself", structural_inputs, structural_tables);
constexpr auto minimum_info = quantity("minimum_thickness", "mm", "t_min", "eq. 11",
                                       "as given by the site, else max(t_p, t_c)", api_581_recalled,
                                       "least wall that may be left", minimum_inputs);
constexpr auto remaining_info = quantity(
    "remaining_life", "y", "RL", "eq. 43", "RL = max(t_rde - t_min, 0) / max(C_LT, C_ST)",
    "API 570, remaining life calculations",
    "time from the last reading until the minimum thickness, by the measured rates; empty without "
    "them or where both are 0",
    remaining_inputs);
constexpr auto ratio_a_info =
    quantity("strength_ratio_a", "", "SR_a", "eq. 12", "SR_a = S E / FS x t_min / t_rde",
             api_581_recalled, "strength ratio by the minimum thickness", ratio_a_inputs);
constexpr auto ratio_b_info =
    quantity("strength_ratio_b", "", "SR_b", "eq. 13", "SR_b = P (D - 2 t_nom) / (alpha FS t_rde)",
             api_581_recalled, "strength ratio by the pressure", ratio_b_inputs, ratio_b_tables);
constexpr auto ratio_info =
    quantity("strength_ratio", "", "SR_P", "eq. 14", "SR_P = max(SR_a, SR_b)", api_581_recalled,
             "hoop stress over flow stress", ratio_inputs);

constexpr std::array count_inputs{Key{"inspections"}};
constexpr std::array count_tables{Key{"inspection_effectiveness"},
                                  Key{"crack_inspection_effectiveness"}};
constexpr QuantityInfo count_info(Key key, Key symbol, Key meaning) {
    return quantity(key, "", symbol, "eq. 15", "inspections up to the rank date",
                    "API RP 581, 3rd edition, Part 2, Table 2.C.10.3", meaning, count_inputs,
                    count_tables);
}
constexpr std::array count_infos{
    count_info("inspections_a", "N_A", "inspections of effectiveness A"),
    count_info("inspections_b", "N_B", "inspections of effectiveness B"),
    count_info("inspections_c", "N_C", "inspections of effectiveness C"),
    count_info("inspections_d", "N_D", "inspections of effectiveness D")};

constexpr QuantityInfo state_info(Key key, Key symbol, Key meaning) {
    return quantity(key, "", symbol, "eq. 16", "Po_k = I_k / (I_1 + I_2 + I_3)", api_581, meaning,
                    state_inputs, state_tables);
}
constexpr std::array state_infos{
    state_info("state_probability_1", "Po_1", "probability that the rate is as expected"),
    state_info("state_probability_2", "Po_2", "probability that it is twice as high"),
    state_info("state_probability_3", "Po_3", "probability that it is four times as high")};

constexpr QuantityInfo index_info(Key key, Key symbol, Key meaning) {
    return quantity(key, "", symbol, "eq. 17",
                    "beta_k = (1 - D_k A_rt - SR_P) / sqrt(D_k^2 A_rt^2 COV_t^2 + (1 - D_k "
                    "A_rt)^2 COV_Sf^2 + SR_P^2 COV_P^2); the lesser of t_rde and t_acc",
                    api_581, meaning, index_inputs, index_tables);
}
constexpr std::array index_infos{
    index_info("reliability_index_1", "beta_1", "reliability index, damage state 1"),
    index_info("reliability_index_2", "beta_2", "reliability index, damage state 2"),
    index_info("reliability_index_3", "beta_3", "reliability index, damage state 3")};

constexpr std::array wall_left_inputs{Key{"wall_thickness"}, Key{"wall_fraction"},
                                      Key{"state_probability_1"}, Key{"state_probability_2"},
                                      Key{"state_probability_3"}};
constexpr std::array wall_left_tables{Key{"damage_state_factor"}};
constexpr std::array below_inputs{Key{"wall_thickness"},      Key{"wall_fraction"},
                                  Key{"minimum_thickness"},   Key{"state_probability_1"},
                                  Key{"state_probability_2"}, Key{"state_probability_3"}};
constexpr std::array below_tables{Key{"damage_state_factor"}, Key{"cov_thinning"}};
constexpr Key own_method = "this method, on the damage states of API RP 581, Part 2, section 16";
constexpr auto wall_left_info =
    quantity("expected_wall", "mm", "t_exp", "eq. 56", "sum of Po_k t_rde max(1 - D_k A_rt, 0)",
             own_method, "wall to be expected at the date", wall_left_inputs, wall_left_tables);
constexpr auto below_info = quantity(
    "below_minimum_probability", "", "P_min", "eq. 57",
    "sum of Po_k Phi((D_k A_rt t_rde - t_rde + t_min) / (COV_t D_k A_rt t_rde))", own_method,
    "probability that less than the minimum thickness is left", below_inputs, below_tables);

constexpr auto at_minimum_info = word_info(
    "reading_at_minimum", "yes_no", "at t_min", "eq. 18a", "t_thin <= t_min",
    "docs/method.md, section 7",
    "a reading that no later accepted one cleared is at or below the minimum thickness: it needs "
    "an engineer now",
    Barrier::damage, at_minimum_inputs);
constexpr auto damage_info = quantity(
    "damage_factor", "", "D_f", "eq. 18, 41",
    "wall loss: sum of Po_k Phi(-beta_k) / {damage_factor_base}, its ceiling with a reading at the "
    "minimum; cracking: max(F_known min(D_fB max(age, 1)^{scc_age_exponent}, {scc_damage_cap}), "
    "{scc_damage_floor})",
    api_581, "how much likelier than pipe in general", damage_inputs, damage_tables);
constexpr auto other_info =
    quantity("other_damage_factor", "", "D_f2", "eq. 59", "of the segment's other mechanism",
             api_581, "damage factor of the other mechanism, 0 without one", {});
constexpr auto combined_info =
    quantity("combined_damage_factor", "", "D_fc", "eq. 59", "D_f + D_f2, or the larger",
             "API RP 581, 3rd edition, Part 2, combination of damage factors (recalled)",
             "damage factor of both mechanisms of the segment", combined_inputs, combined_tables);
constexpr auto counted_info = word_info(
    "counted_inspections", "scc_inspections", "n", "eq. 40",
    "category and number that give most credit; two of a lower count as one of the next",
    "API RP 581, 3rd edition, Part 2, section 3.4.3 (recalled)",
    "inspections that count for cracking", Barrier::damage, counted_inputs, counted_tables);
constexpr auto base_damage_info =
    quantity("base_damage_factor", "", "D_fB", "eq. 40", "by severity and inspections",
             "API RP 581, 3rd edition, Part 2, Table 6.3 (recalled)",
             "damage factor of cracking right after the inspections", base_damage_inputs,
             base_damage_tables);
constexpr auto known_cracks_info =
    quantity("known_cracks_factor", "", "F_known", "eq. 41", "1 without known cracks",
             "rule set; no figure in the standard", "factor for cracks that are known",
             known_cracks_inputs, known_cracks_tables);
constexpr auto frequency_info =
    quantity("generic_frequency", "1/y", "gff", "eq. 20", "sum over the hole sizes",
             "API RP 581, 3rd edition, Part 2, generic failure frequencies",
             "failure frequency of pipe in general", frequency_inputs, frequency_tables);
constexpr auto management_info =
    quantity("management_factor", "", "F_MS", "eq. 19", "F_MS = 10^(slope score + offset)",
             "API RP 581, 3rd edition, Part 1 (recalled)", "quality of the site's management",
             management_inputs, management_tables);
constexpr auto probability_info =
    quantity("probability_of_failure", "1/y", "P_f", "eq. 20", "P_f = min(gff F_MS D_f, cap)",
             "API RP 581, 3rd edition, Part 1 (recalled)", "probability of a leak in a year",
             probability_inputs, probability_tables);

}  // namespace

void LikelihoodColumns::resize(const MechanismRows& rows, bool two_mechanisms) {
    const auto wall = static_cast<Eigen::Index>(rows.wall_loss);
    const auto all = static_cast<Eigen::Index>(rows.all());
    for (Numbers* column :
         {&wall_fraction, &flow_stress_mpa, &pressure_minimum_mm, &structural_minimum_mm,
          &minimum_thickness_mm, &remaining_life_years, &strength_ratio_a, &strength_ratio_b,
          &strength_ratio, &expected_wall_mm, &below_minimum}) {
        make_rows(*column, wall);
    }
    remaining_life_known = Codes::Ones(wall);
    make_rows(at_minimum, wall);
    for (Numbers& column : state_probability) make_rows(column, wall);
    for (Numbers& column : reliability_index) make_rows(column, wall);
    make_rows(base_damage_factor, static_cast<Eigen::Index>(rows.cracking));
    make_rows(known_cracks_factor, static_cast<Eigen::Index>(rows.cracking));
    make_rows(counted_inspections, static_cast<Eigen::Index>(rows.cracking));
    for (Numbers* column : {&damage_factor, &generic_frequency_per_year, &management_factor,
                            &probability_of_failure_per_year}) {
        make_rows(*column, all);
    }
    for (Numbers& column : inspections) make_rows(column, all);
    make_rows(other_damage_factor, two_mechanisms ? all : 0);
    make_rows(combined_damage_factor, two_mechanisms ? all : 0);
}

std::vector<ColumnView> LikelihoodColumns::views(bool two_mechanisms) const {
    std::vector<ColumnView> all{view(fraction_info, wall_fraction),
                                view(flow_info, flow_stress_mpa),
                                view(pressure_info, pressure_minimum_mm),
                                view(structural_info, structural_minimum_mm),
                                view(minimum_info, minimum_thickness_mm),
                                view(remaining_info, remaining_life_years, remaining_life_known),
                                view(ratio_a_info, strength_ratio_a),
                                view(ratio_b_info, strength_ratio_b),
                                view(ratio_info, strength_ratio)};
    for (std::size_t c = 0; c < telling_categories; ++c) {
        all.push_back(view(count_infos[c], inspections[c]));
    }
    for (std::size_t k = 0; k < damage_states; ++k) {
        all.push_back(view(state_infos[k], state_probability[k]));
    }
    for (std::size_t k = 0; k < damage_states; ++k) {
        all.push_back(view(index_infos[k], reliability_index[k]));
    }
    all.push_back(view(wall_left_info, expected_wall_mm));
    all.push_back(view(below_info, below_minimum));
    all.push_back(view(at_minimum_info, at_minimum));
    const auto cracking = static_cast<std::size_t>(wall_fraction.size());
    all.push_back(view(counted_info, counted_inspections));
    all.back().first = cracking;
    all.push_back(view(base_damage_info, base_damage_factor));
    all.back().first = cracking;
    all.push_back(view(known_cracks_info, known_cracks_factor));
    all.back().first = cracking;
    all.push_back(view(damage_info, damage_factor));
    add_if(two_mechanisms, all, other_info, other_damage_factor);
    add_if(two_mechanisms, all, combined_info, combined_damage_factor);
    all.push_back(view(frequency_info, generic_frequency_per_year));
    all.push_back(view(management_info, management_factor));
    all.push_back(view(probability_info, probability_of_failure_per_year));
    return all;
}

}  // namespace lagline
