#pragma once

#include <string>
#include <vector>

#include "ranking/explain.h"
#include "report/layout.h"

namespace lagline {

/// Why a segment ranks where it does, for a terminal: each quantity in the order of the method with
/// its equation, and below it the cells and rule entries it is made of, with their places.
/// @param ahead  the years ahead as text of its own, put before the inspections; may be empty
[[nodiscard]] std::string explain_text(const Explanation& told, const TextStyle& style,
                                       const std::string& ahead = {});

/// What whoever goes to this segment must know: cracks that do not show, a wall near its minimum,
/// the hazard of its fluid.  Cautions that hold for every segment are in cautions.h.
[[nodiscard]] std::vector<std::string> segment_cautions(const Explanation& told);

/// The same numbers as a JSON document: for each quantity the value, unit, equation, formula,
/// source, inputs (with file, line, column) and rules (with file and line).
[[nodiscard]] std::string explain_json(const Explanation& told);

}  // namespace lagline
