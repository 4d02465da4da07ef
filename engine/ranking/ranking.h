#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "consequence/consequence.h"
#include "degradation/degradation.h"
#include "diagnostics/diagnostic.h"
#include "exposure/exposure.h"
#include "likelihood/likelihood.h"
#include "plant/plant.h"
#include "ranking/risk.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A segment that the rule set cannot rank, and why.
struct NotRanked {
    std::uint32_t segment_row = 0;
    std::string reason;
};

/// Quantities of one step of the method.
struct RankingSection {
    std::string_view title;
    std::vector<ColumnView> columns;
};

/// The ranking of a plant: every quantity of the method as a column, one row per segment and
/// mechanism, and the order by risk.
struct Ranking {
    RankDate at;
    std::vector<std::uint32_t> segment_rows;  ///< segment of each row
    ExposureColumns exposure;
    DegradationColumns degradation;
    LikelihoodColumns likelihood;
    ConsequenceColumns consequence;
    RiskColumns risk;
    std::vector<std::uint16_t> assumptions;   ///< assumed inputs of each row
    std::vector<std::uint32_t> order;         ///< row of each rank: order[0] is rank 1
    std::vector<std::uint8_t> effectiveness;  ///< of each row of inspections.csv
    std::vector<NotRanked> not_ranked;

    [[nodiscard]] std::size_t rows() const { return segment_rows.size(); }
    /// Every column of the method with its description, step by step.
    [[nodiscard]] std::vector<RankingSection> sections() const;
    /// The same without the steps.
    [[nodiscard]] std::vector<ColumnView> views() const;
};

/// Name of the one mechanism of this method in outputs.
inline constexpr std::string_view wall_loss_mechanism = "wall_loss";

/// Every rule table that ranking reads; check_needs() compares a rule set with it.
[[nodiscard]] std::vector<TableNeed> ranking_needs();

/// Columns of segments.csv that ranking reads, as indices into segment_fields(): what can be an
/// assumption.
[[nodiscard]] std::vector<std::size_t> fields_read();

/// Ranks the ferritic segments of `plant` by wall loss under insulation at plant.ranked_at.  Rows
/// are ordered by risk, the greatest first, ties by segment name.  Work is spread over threads in
/// blocks; the result does not depend on them.
/// @throws std::out_of_range  when `rules` lack a table: see ranking_needs()
[[nodiscard]] Ranking rank(const Plant& plant, const RuleSet& rules, const WorkPlan& plan = {});

}  // namespace lagline
