#pragma once

#include <array>
#include <string>
#include <string_view>

#include "consequence/consequence.h"

namespace lagline {

/// What every output says of itself.
inline constexpr std::string_view screening_caution =
    "This is a screening aid. What to inspect, repair or leave is decided by the owner's competent "
    "or licensed engineer under the code in force.";

/// Cautions for whoever acts on a ranking, in the order in which they are met in the field.
inline constexpr std::array<std::string_view, 4> field_cautions{
    "Stripping insulation from a line in service can expose hot metal and can break a thinned "
    "wall: "
    "where the expected wall is near the minimum, take the line out of service first.",
    "Insulation of unknown age can hold asbestos: have it surveyed before it is touched.",
    "Zinc and its vapour embrittle hot austenitic steel; chlorides crack it.",
    "Blasting near live lines, work at height and confined spaces need the permits of the site."};

/// Where the fluid class, and with it the hazard of a release, is not recorded.
inline constexpr std::string_view unknown_fluid_caution =
    "The fluid class is not recorded: treat a release as flammable and toxic until it is known.";

/// "Fluid class toxic, toxic: a release can poison: ..."; empty where there is nothing to say.
[[nodiscard]] inline std::string service_caution(std::string_view fluid_class,
                                                 std::string_view hazard,
                                                 std::string_view meaning) {
    if (hazard.empty()) return std::string{unknown_fluid_caution};
    if (hazard == no_hazard) return "";
    return "Fluid class " + std::string{fluid_class} + ", " + std::string{hazard} + ": " +
           std::string{meaning} + ".";
}

}  // namespace lagline
