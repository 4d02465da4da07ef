#pragma once

#include <array>
#include <string_view>

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

}  // namespace lagline
