#pragma once

#include <array>
#include <string_view>

namespace lagline {

/// A case of the wall-loss method with all intermediates: worked out apart from this program, by
/// the formulas of API RP 581, 3rd edition (2020), Part 2, section 16.  Formula of beta_k, of the
/// posterior and of D_f as published; factors, priors, conditional probabilities, flow stress and
/// strength ratio recalled.  S = 20 000 psi, YS = 35 000 psi, TS = 60 000 psi, E = 1, Y = 0.4,
/// no allowance, frequency 3.06e-5 a year, management factor 1, alpha = 2.
struct WorkedCase {
    std::string_view name;
    double degf;
    std::string_view driver;
    double insulation, complexity, condition, pooling, interface_factor;
    double outside_in, nominal_in, wall_in, pressure_psi, structural_in;
    double since_wall_y, coating_age_y, coating_life_y;
    std::array<double, 3> prior;
    std::array<double, 4> counts;  ///< inspections of effectiveness A, B, C, D
    // As printed:
    std::string_view base_mpy, rate_mpy, credit_y, exposed_y, pressure_minimum_in, ratio_a, ratio_b,
        fraction;
    std::array<std::string_view, 3> state, index;
    std::string_view damage, probability;
};

inline constexpr double allowable_psi = 20000.0;
inline constexpr double yield_psi = 35000.0;
inline constexpr double tensile_psi = 60000.0;

// clang-format off
inline constexpr std::array worked_cases{
    WorkedCase{"W1", 160, "moderate", 1.25, 1.0, 1.25, 1, 1, 6.625, 0.280, 0.280, 250, 0.11, 15, 15, 5,
               {0.5, 0.3, 0.2}, {0, 0, 0, 0},
               "10", "15.625", "5", "10", "0.04120", "0.15038", "0.05182", "0.55804",
               {"0.5", "0.3", "0.2"}, {"2.04524", "-1.18661", "-2.71091"}, "3039.935", "9.3022e-02"},
    WorkedCase{"W2", 160, "moderate", 1.25, 1.0, 1.25, 1, 1, 6.625, 0.280, 0.280, 250, 0.11, 15, 15, 5,
               {0.5, 0.3, 0.2}, {0, 1, 0, 0},
               "10", "15.625", "5", "10", "0.04120", "0.15038", "0.05182", "0.55804",
               {"0.81395", "0.13953", "0.04651"}, {"2.04524", "-1.18661", "-2.71091"}, "1192.859", "3.6501e-02"},
    WorkedCase{"W3", 160, "moderate", 1.25, 1.0, 1.25, 1, 1, 6.625, 0.280, 0.280, 250, 0.11, 15, 15, 5,
               {0.5, 0.3, 0.2}, {2, 0, 0, 0},
               "10", "15.625", "5", "10", "0.04120", "0.15038", "0.05182", "0.55804",
               {"0.99399", "0.00596", "0.00005"}, {"2.04524", "-1.18661", "-2.71091"}, "164.127", "5.0223e-03"},
    WorkedCase{"W4", 90, "severe", 1.25, 1.25, 1.0, 2, 1, 2.375, 0.154, 0.154, 150, 0.07, 10, 10, 0,
               {0.5, 0.3, 0.2}, {0, 0, 0, 0},
               "10", "31.25", "0", "10", "0.00888", "0.17399", "0.01927", "2.02922",
               {"0.5", "0.3", "0.2"}, {"-2.64357", "-3.18026", "-3.37691"}, "6395.225", "1.9569e-01"}};
// clang-format on

}  // namespace lagline
