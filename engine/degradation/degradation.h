#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "degradation/history.h"
#include "exposure/exposure.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Wall loss of ferritic steel and what the coating kept off.  One row per ranked row.
struct DegradationColumns {
    Numbers base_rate_mm_per_year;
    Numbers insulation_factor;
    Numbers complexity_factor;
    Numbers condition_factor;
    Numbers pooling_factor;
    Numbers interface_factor;
    Numbers site_factor;
    Numbers corrosion_rate_mm_per_year;
    Numbers wall_thickness_mm;
    Numbers time_since_wall_years;
    Numbers coating_age_years;
    Numbers coating_life_years;
    Codes coating_failed;
    Numbers coating_credit_years;
    Numbers exposed_time_years;
    Codes outside_range;    ///< 1 where a table was used outside its validity
    Codes reading_assumed;  ///< 1 where the day of the reading that gave the wall is an assumption

    void resize(Eigen::Index rows);
    [[nodiscard]] std::vector<ColumnView> views() const;
};

/// The rule tables of this step, taken out of the rule set once.
struct DegradationRules {
    const CurveTable* base_rate = nullptr;
    const LookupTable* insulation = nullptr;
    const LookupTable* complexity = nullptr;
    const LookupTable* condition = nullptr;
    const LookupTable* pooling = nullptr;
    const LookupTable* interface_factor = nullptr;
    const LookupTable* coating_life = nullptr;
    std::vector<const SiteFactorTable*> site_factors;
    HistoryRules history;
};
[[nodiscard]] DegradationRules degradation_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> degradation_needs();

/// Fills rows [range) of `out` at date `at` (eq. 2 to 7).
/// @param effectiveness  code by row of inspections.csv, see inspection_effectiveness()
void fill_degradation(const Plant& plant, const DegradationRules& rules, Date at,
                      std::span<const std::uint8_t> effectiveness,
                      std::span<const std::uint32_t> rows, const ExposureColumns& exposure,
                      RowRange range, DegradationColumns& out);

}  // namespace lagline
