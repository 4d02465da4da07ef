#pragma once

#include <string>
#include <vector>

#include "ranking/empty_cells.h"
#include "report/layout.h"

namespace lagline {

/// What an empty cell of each optional column takes, where that stands among what may stand there,
/// and how common that is, tried on reference_segment().
[[nodiscard]] std::string empty_columns_text(const RuleSet& rules,
                                             const std::vector<EmptyColumn>& columns,
                                             const TextStyle& style);

/// The same as a JSON document: {rules: [...], reference: {...}, columns: [{column, takes, basis,
/// reason, worse_share, median_effect, values: [{value, share, effect}]}]}.
[[nodiscard]] std::string empty_columns_json(const RuleSet& rules,
                                             const std::vector<EmptyColumn>& columns);

}  // namespace lagline
