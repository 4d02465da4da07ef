#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What a leak costs.  One row per ranked row.
struct ConsequenceColumns {
    Codes consequence_category;  ///< vocabulary `consequence_category`
    Numbers leak_cost;           ///< plant currency

    void resize(Eigen::Index rows);
    [[nodiscard]] std::vector<ColumnView> views() const;
};

struct ConsequenceRules {
    const BandTable* category_of_cost = nullptr;
    const LookupTable* cost_of_category = nullptr;
    double plant_per_usd = 1.0;  ///< price of one US dollar in the plant's currency
};
[[nodiscard]] ConsequenceRules consequence_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> consequence_needs();

/// Fills rows [range) of `out` (eq. 21): the category as given, else that of the money; the money
/// as given, else what stands for the category.
void fill_consequence(const Plant& plant, const ConsequenceRules& rules,
                      std::span<const std::uint32_t> rows, RowRange range, ConsequenceColumns& out);

}  // namespace lagline
