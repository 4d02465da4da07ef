#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "planning/recoat.h"
#include "planning/recoat_rules.h"
#include "quantity/strong.h"

namespace lagline {

// The parts that an option is put together from.

/// The coats of a system.
struct SpecifiedFilms {
    std::array<CoatFilm, most_coats> films{};
    std::uint8_t coats = 0;
    [[nodiscard]] double target_um() const;  ///< of all coats together
};
/// The coats of a system for a service up to `hottest`: where heat would crack a thicker film, the
/// ranges end so that all coats together stay within the limit.  Nothing where even the least films
/// are too thick.
[[nodiscard]] std::optional<SpecifiedFilms> specified_films(const RecoatRules& rules,
                                                            std::uint8_t system,
                                                            DegCelsius hottest);

/// Cost of preparation, material and application of one square metre [USD] at the prices of the
/// rules (recoat.md, eq. 6).
[[nodiscard]] double coating_usd_per_m2(const RecoatRules& rules, std::uint8_t system,
                                        std::uint8_t preparation, const SpecifiedFilms& films);

/// Material of each coat for an area: litres, or m2 of a wrap (recoat.md, eq. 4).
[[nodiscard]] std::array<double, most_coats> coat_material(const RecoatRules& rules,
                                                           std::uint8_t system,
                                                           const SpecifiedFilms& films,
                                                           double area_m2);

/// Temperatures that the steel of a segment takes while it is worked on.
struct SteelWhileWorked {
    double least_degc = 0.0;
    double most_degc = 0.0;
};
/// @param month  from 0; the air of it counts in a shutdown, on idle lines and along dead legs
[[nodiscard]] SteelWhileWorked steel_while_worked(const Plant& plant, const RecoatRules& rules,
                                                  std::uint32_t segment, WorkState state,
                                                  std::size_t month);

/// True where the steel follows the air while it is worked on, all of it or in part.
[[nodiscard]] bool follows_air(const Plant& plant, const RecoatRules& rules, std::uint32_t segment,
                               WorkState state);

}  // namespace lagline
