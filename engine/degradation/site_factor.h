#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A site factor and the column of a plant that it goes by.
class SiteFactorColumn {
  public:
    SiteFactorColumn(const SiteFactorTable& table, const Plant& plant, const RuleSet& rules);

    [[nodiscard]] const SiteFactorTable& table() const { return *table_; }
    /// The entry for segment row `segment`; the one for other texts where the cell is empty or the
    /// plant has no such column.
    [[nodiscard]] const RuleEntry& find(std::uint32_t segment) const;

  private:
    const SiteFactorTable* table_;
    const SegmentSheet* segments_;
    std::optional<std::size_t> field_;         ///< of segments.csv
    const SiteColumn* site_column_ = nullptr;  ///< of the site's own
    std::vector<const RuleEntry*> by_word_;    ///< by code, for a column of words
};

/// One for each site factor of the rules, by name.  They point into `rules` and `plant`.
[[nodiscard]] std::vector<SiteFactorColumn> site_factor_columns(const RuleSet& rules,
                                                                const Plant& plant);

}  // namespace lagline
