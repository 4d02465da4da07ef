#pragma once

#include <string>

#include "planning/found_choice.h"
#include "planning/plan.h"

namespace lagline {

/// What the search for a plan found, as a text that read_found_choice() reads to the last bit:
/// rows of what, name, value.
[[nodiscard]] std::string found_choice_csv(const Plant& plant, const RuleSet& rules,
                                           const Plan& plan);

/// @throws std::runtime_error  when the text is not such a one
[[nodiscard]] FoundChoice read_found_choice(std::string csv);

}  // namespace lagline
