#pragma once

#include <string>
#include <vector>

#include "planning/plan.h"
#include "report/output_table.h"

namespace lagline {

/// One planned segment as every format tells it.
struct PlanRow {
    std::size_t row;  ///< of the futures
    const PlannedSegment& segment;
    const Strategy& strategy;
    const Deadline& deadline;

    PlanRow(const Plan& plan, std::size_t at)
        : row(at),
          segment(plan.segments[row]),
          strategy(plan.strategies.all[segment.strategy]),
          deadline(plan.deadlines[row]) {}

    [[nodiscard]] double saves() const { return segment.loss_if_left - strategy.loss; }
    [[nodiscard]] bool coats() const {
        return strategy.acts && strategy.coating != Strategy::no_coating_code &&
               strategy.action != WorkAction::renew_insulation;
    }
    /// What delay adds to the loss; nothing where it has no bound.
    [[nodiscard]] std::optional<double> cost_of_waiting() const;
    /// Its part of what the scaffold of its group counts for in a window, in proportion to the
    /// chances of those that need it: the parts add up to the scaffolds.
    struct ScaffoldPart {
        double money = 0.0;  ///< prices of today
        double hours = 0.0;
    };
    [[nodiscard]] ScaffoldPart scaffold(const Plan& plan, std::size_t window) const;
    /// The action's word, or "leave".
    [[nodiscard]] std::string_view action(const RuleSet& rules) const;
};

/// The plan as a table: every ranked segment in the order of segments.csv.
class PlanRows : public OutputTable {
  public:
    PlanRows(const Plant& plant, const RuleSet& rules, const Plan& plan)
        : plant_(plant), rules_(rules), plan_(plan), engineer_now_(by_segment(plan.engineer_now)) {}

    [[nodiscard]] std::vector<OutputColumn> columns() const override;
    [[nodiscard]] std::size_t rows() const override { return plan_.segments.size(); }
    void write_row(std::size_t row, TableCells& cells) const override;

  private:
    void write_work(const PlanRow& row, TableCells& cells) const;
    void write_deadline(const PlanRow& row, TableCells& cells) const;
    [[nodiscard]] std::string cautions(const Strategy& strategy) const;

    const Plant& plant_;
    const RuleSet& rules_;
    const Plan& plan_;
    std::vector<EngineerNeed> engineer_now_;  ///< by segment row
};

}  // namespace lagline
