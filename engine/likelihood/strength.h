#pragma once

#include "blocks/column.h"

namespace lagline {

/// Flow stress (eq. 9).  N rows, [MPa].
/// @source API RP 581, 3rd edition, Part 2 (recalled): FS = (YS + TS)/2 E f, f = 1.1 there
void flow_stress(ConstColumn yield_mpa, ConstColumn tensile_mpa, ConstColumn joint_efficiency,
                 double factor, Column flow_mpa);

/// Wall that the design pressure needs, without allowances (eq. 10).  N rows.
/// @param pressure_mpa   design pressure, gauge [MPa], >= 0
/// @param outside_mm     outside diameter [mm]
/// @param allowable_mpa  allowable stress [MPa]
/// @param joint_efficiency  quality factor E
/// @param wall_mm        nominal wall [mm]; from a sixth of the diameter on, Y is that of thick
/// pipe
/// @param allowance_mm   sum of mechanical and corrosion allowances c [mm]; used by thick pipe only
/// @param coefficient_y  Y of thin pipe
/// @param[out] needed_mm pressure design thickness [mm]
/// @source ASME B31.3, paragraph 304.1.2, equation (3a) with W = 1
void pressure_minimum(ConstColumn pressure_mpa, ConstColumn outside_mm, ConstColumn allowable_mpa,
                      ConstColumn joint_efficiency, ConstColumn wall_mm, ConstColumn allowance_mm,
                      double coefficient_y, Column needed_mm);

/// Strength ratio by the minimum thickness (eq. 12): S E / FS x t_min / t_rde.  N rows.
/// @source API RP 581, 3rd edition, Part 2 (recalled)
void strength_ratio_by_minimum(ConstColumn allowable_mpa, ConstColumn joint_efficiency,
                               ConstColumn flow_mpa, ConstColumn minimum_mm, ConstColumn wall_mm,
                               Column ratio);

/// Strength ratio by the pressure (eq. 13): P D_i / (alpha FS t_rde), D_i the inside diameter with
/// the nominal wall.  N rows.
/// @source API RP 581, 3rd edition, Part 2 (recalled)
void strength_ratio_by_pressure(ConstColumn pressure_mpa, ConstColumn outside_mm,
                                ConstColumn nominal_wall_mm, ConstColumn flow_mpa,
                                ConstColumn wall_mm, double shape, Column ratio);

/// Greatest pressure that a pipe with wall `wall_mm` may see: 2 S E t / D [MPa].
/// @source API 570, Annex C
[[nodiscard]] double greatest_working_pressure_mpa(double allowable_mpa, double joint_efficiency,
                                                   double wall_mm, double outside_mm);

/// Years until the wall is down to what is required; 0 when it is there already, infinite at rate
/// 0.
/// @source API 570, remaining life calculation
[[nodiscard]] double remaining_life_years(double wall_mm, double required_mm,
                                          double rate_mm_per_year);

}  // namespace lagline
