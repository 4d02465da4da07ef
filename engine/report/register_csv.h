#pragma once

#include <string>
#include <vector>

#include "consequence/consequence.h"
#include "intake/gaps.h"
#include "plant/plant.h"
#include "report/output_table.h"

namespace lagline {

/// The register of assumptions as a table: a row for each gap, then one for each unit whose lost
/// margin is that of the rules.
class AssumptionRows : public OutputTable {
  public:
    AssumptionRows(const std::vector<Gap>& gaps, const std::vector<MarginGap>& margins)
        : gaps_(gaps), margins_(margins) {}

    [[nodiscard]] std::vector<OutputColumn> columns() const override;
    [[nodiscard]] std::size_t rows() const override { return gaps_.size() + margins_.size(); }
    void write_row(std::size_t row, TableCells& cells) const override;

  private:
    const std::vector<Gap>& gaps_;
    const std::vector<MarginGap>& margins_;
};

/// The register of assumptions as CSV: column, state, segments, taken, reason, basis; a row for
/// each gap, then one for each unit whose lost margin is that of the rules.  Names no file, so that
/// the same plant in another folder gives the same bytes.
[[nodiscard]] std::string assumptions_csv(const std::vector<Gap>& gaps,
                                          const std::vector<MarginGap>& margins);

/// The overrides in force as CSV: segment, quantity, value, replaced, reason, who, when, until.
[[nodiscard]] std::string overrides_csv(const Plant& plant);

}  // namespace lagline
