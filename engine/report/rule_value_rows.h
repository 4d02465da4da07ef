#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "report/output_table.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Every value of some rule tables, with unit, source, basis and the range it holds in.
class RuleValueRows : public OutputTable {
  public:
    /// @param tables  names of tables; site factors are always among the values
    RuleValueRows(const RuleSet& rules, const std::set<std::string_view>& tables);

    [[nodiscard]] std::vector<OutputColumn> columns() const override;
    [[nodiscard]] std::size_t rows() const override { return lines_.size(); }
    void write_row(std::size_t row, TableCells& cells) const override;

  private:
    const RuleSet& rules_;
    std::vector<RuleLine> lines_;
};

/// The names of needed tables.
[[nodiscard]] std::set<std::string_view> names_of(const std::vector<TableNeed>& needs);

}  // namespace lagline
