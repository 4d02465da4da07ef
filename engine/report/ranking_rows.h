#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "report/output_table.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The ranking as a table: a row per segment and mechanism in the order of rank.
class RankingRows : public OutputTable {
  public:
    /// @param top  rows to print; 0 for all
    RankingRows(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::size_t top);

    [[nodiscard]] std::vector<OutputColumn> columns() const override;
    [[nodiscard]] std::size_t rows() const override { return rows_; }
    void write_row(std::size_t rank, TableCells& cells) const override;
    void expect_row(std::size_t rank) const override;

  private:
    const Plant& plant_;
    const Ranking& ranking_;
    std::vector<ColumnView> columns_;
    std::vector<const Vocabulary*> vocabularies_;
    std::vector<EngineerNeed> engineer_now_;  ///< by segment row
    std::size_t rows_ = 0;
};

/// Heading of a column of a table: the key, with the unit in brackets.  Money columns carry no
/// unit there: the currency is a column of its own.
[[nodiscard]] std::string csv_heading(const QuantityInfo& info);

}  // namespace lagline
