#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "blocks/row_vector.h"
#include "consequence/consequence.h"
#include "degradation/degradation.h"
#include "diagnostics/diagnostic.h"
#include "exposure/exposure.h"
#include "likelihood/likelihood.h"
#include "plant/plant.h"
#include "ranking/outlook.h"
#include "ranking/risk.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A segment that the rule set cannot rank, and why.
struct NotRanked {
    std::uint32_t segment_row = 0;
    std::string reason;
};

/// Quantities of one barrier, or of one step after the barriers.
struct RankingSection {
    std::string_view title;
    std::vector<ColumnView> columns;
};

/// Names of the mechanisms in outputs.
inline constexpr std::string_view wall_loss_mechanism = "wall_loss";
inline constexpr std::string_view cracking_mechanism = "stress_cracking";

/// The ranking of a plant: every quantity of the method as a column, one row per segment and
/// mechanism (wall loss first, then cracking), and the order by risk.
struct Ranking {
    RankDate at;
    MethodModels models;
    MechanismRows mechanism_rows;
    std::vector<std::uint32_t> segment_rows;  ///< segment of each row
    /// Row of the segment's other mechanism, `alone` without one; empty where no segment has two.
    std::vector<std::int32_t> partner;
    static constexpr std::int32_t alone = -1;
    ExposureColumns exposure;
    CoatingColumns coating;
    WallLossColumns wall_loss;
    CrackingColumns cracking;
    LikelihoodColumns likelihood;
    ConsequenceColumns consequence;
    RiskColumns risk;
    std::vector<std::uint16_t> assumptions;         ///< assumed inputs of each row
    RowVector<std::uint32_t> order;                 ///< row of each rank: order[0] is rank 1
    std::vector<std::uint8_t> effectiveness;        ///< for loss of wall, by row of inspections.csv
    std::vector<std::uint8_t> crack_effectiveness;  ///< for cracking, likewise
    std::vector<NotRanked> not_ranked;
    std::optional<Outlook> outlook;  ///< for whoever asks for it: see rank_with_outlook()

    /// Rows calculated; those that a table refused are not in `order`.
    [[nodiscard]] std::size_t rows() const { return segment_rows.size(); }
    /// Effectiveness of the inspections for the mechanism of `row`, by row of inspections.csv.
    [[nodiscard]] std::span<const std::uint8_t> effectiveness_for(std::size_t row) const {
        return row < mechanism_rows.wall_loss ? effectiveness : crack_effectiveness;
    }
    [[nodiscard]] std::string_view mechanism(std::size_t row) const {
        return row < mechanism_rows.wall_loss ? wall_loss_mechanism : cracking_mechanism;
    }
    /// Row of the other mechanism of the segment of `row`, where it has one.
    [[nodiscard]] std::optional<std::uint32_t> other_mechanism(std::size_t row) const;
    /// True for the row that stands for its segment in `order`: of two mechanisms the one with the
    /// greater damage factor.
    [[nodiscard]] bool stands_for_segment(std::size_t row) const;
    /// Makes the columns that `models` fill, for so many rows.
    void resize(const MechanismRows& rows, const MethodModels& chosen);
    /// Every column of the method with its description, in the order of the four barriers and then
    /// of the method.
    [[nodiscard]] std::vector<RankingSection> sections() const;
    /// The same without the titles.
    [[nodiscard]] std::vector<ColumnView> views() const;
};

/// Every rule table that ranking by `rules` reads.
[[nodiscard]] std::vector<TableNeed> ranking_needs(const RuleSet& rules);

/// Problems that keep ranking from using `rules`: missing or unfit tables, models that do not go
/// together; and warnings of tables that nothing reads.
/// @param more  what steps after the ranking read
[[nodiscard]] Report check_rules(const RuleSet& rules, std::span<const TableNeed> more = {});

/// Columns of segments.csv that ranking by `rules` reads, as indices into segment_fields(): what
/// can be an assumption.
[[nodiscard]] std::vector<std::size_t> fields_read(const RuleSet& rules);

/// The same for wall loss and for cracking, each by itself.
[[nodiscard]] std::array<std::vector<std::size_t>, 2> fields_by_mechanism(const RuleSet& rules);

/// Ranks the segments of `plant` at plant.ranked_at: ferritic ones by wall loss under insulation,
/// stainless ones by stress-corrosion cracking where the rules can.  Rows are ordered by risk, the
/// greatest first, ties by segment name.  Work is spread over threads in blocks; the result does
/// not depend on them.
/// @throws std::out_of_range  when `rules` lack a table: see ranking_needs()
[[nodiscard]] Ranking rank(const Plant& plant, const RuleSet& rules, const WorkPlan& plan = {});

/// The same with its outlook: today's rank of every row, due dates of the first `top` ranks.
/// @param top  0 for all
[[nodiscard]] Ranking rank_with_outlook(const Plant& plant, const RuleSet& rules, std::size_t top,
                                        const WorkPlan& plan = {});

/// The same where only the first `top` ranks are wanted: the others follow in `order` without a
/// meaning, and have no rank of today.  Without a full sort.
/// @param top  0 for all
[[nodiscard]] Ranking rank_first(const Plant& plant, const RuleSet& rules, std::size_t top,
                                 const WorkPlan& plan = {});

}  // namespace lagline
