#pragma once

#include <string>
#include <string_view>

#include "synthesis/synthesis.h"

namespace lagline {

inline constexpr std::string_view synthetic_currency = "EUR";

/// plant.yaml: name, climate, costs.  The same for every plant but for the line that says how it
/// was made.
[[nodiscard]] std::string synthetic_plant_yaml(const SynthesisOptions& options);

/// turnarounds.csv: two turnarounds and a window on stream between them, money and hours in
/// proportion to the number of segments.
[[nodiscard]] std::string synthetic_turnarounds(const SynthesisOptions& options);

}  // namespace lagline
