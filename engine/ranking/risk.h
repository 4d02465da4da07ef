#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "consequence/consequence.h"
#include "likelihood/likelihood.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Risk of a leak.  One row per ranked row.
struct RiskColumns {
    Codes probability_category;  ///< vocabulary `probability_category`
    Codes risk_category;         ///< vocabulary `risk_category`
    Numbers risk_per_year;       ///< plant currency a year

    void resize(Eigen::Index rows);
    [[nodiscard]] std::vector<ColumnView> views() const;
};

struct RiskRules {
    const BandTable* probability_category = nullptr;
    const GridTable* matrix = nullptr;
};
[[nodiscard]] RiskRules risk_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> risk_needs();

/// Fills rows [range) of `out` (eq. 22 and 23).
void fill_risk(const RiskRules& rules, const LikelihoodColumns& likelihood,
               const ConsequenceColumns& consequence, RowRange range, RiskColumns& out);

}  // namespace lagline
