#include "degradation/site_factor.h"

#include <algorithm>

namespace lagline {

SiteFactorColumn::SiteFactorColumn(const SiteFactorTable& table, const Plant& plant,
                                   const RuleSet& rules)
    : table_(&table),
      segments_(&plant.segments),
      field_(find_field(segment_fields(), table.info.by)) {
    if (!field_) {
        const auto found =
            std::ranges::find(plant.segments.site_columns, table.info.by, &SiteColumn::key);
        if (found != plant.segments.site_columns.end()) site_column_ = &*found;
        return;
    }
    const FieldInfo& field = segment_fields()[*field_];
    if (field.words.empty()) return;
    for (const Word& word : rules.vocabulary(field.words).words) {
        by_word_.push_back(&table.find(word.key));
    }
}

const RuleEntry& SiteFactorColumn::find(std::uint32_t segment) const {
    if (site_column_ != nullptr) return table_->find(site_column_->texts[segment]);
    if (!field_ || segments_->Sheet::state(*field_, segment) == CellState::absent) {
        return table_->otherwise;
    }
    const SheetColumn& column = segments_->Sheet::column(*field_);
    return by_word_.empty() ? table_->find(column.texts[segment])
                            : *by_word_[column.codes[segment]];
}

std::vector<SiteFactorColumn> site_factor_columns(const RuleSet& rules, const Plant& plant) {
    std::vector<SiteFactorColumn> columns;
    columns.reserve(rules.site_factors.size());
    for (const auto& [name, table] : rules.site_factors) columns.emplace_back(table, plant, rules);
    return columns;
}

}  // namespace lagline
