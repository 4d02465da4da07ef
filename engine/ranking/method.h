#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>

#include "ranking/ranking.h"
#include "ranking/risk_order.h"

namespace lagline {

/// The method with its rules taken out of the rule set once, for one plant and any number of dates
/// and choices of segments.  Keeps references to both.
///
/// A ranking is filled in this order, each step for any ranges of rows of one mechanism:
///   1. start()            chooses the rows and makes the columns
///   2. fill_conditions()  what no date after the last inspection changes
///   3. fill_state()       damage of each mechanism at `ranking.at`
///   4. fill_risk()        probability and risk, once both mechanisms of a segment are filled
/// To see the same rows at another date, set `ranking.at` and do the last two again.
class Method {
  public:
    /// All columns, or only those that the risk depends on: the others are then without meaning.
    enum class Wanted : std::uint8_t { all, risk };
    /// @throws std::out_of_range  when `rules` lack a table: see ranking_needs()
    Method(const Plant& plant, const RuleSet& rules, Wanted wanted = Wanted::all);

    /// Empty rows, at plant.ranked_at, for the segments (all of them without a choice) that have a
    /// mechanism; the others are in `not_ranked`.
    [[nodiscard]] Ranking start(
        std::optional<std::span<const std::uint32_t>> segments = std::nullopt) const;

    /// Exposure, life of the coating, corrosion rate or susceptibility, consequence.
    void fill_conditions(RowRange rows, Ranking& ranking) const;

    /// History, coating, wall or cracks, damage factor at the date of the ranking.
    void fill_state(RowRange rows, Ranking& ranking) const;

    /// Combined damage factor, probability of failure, risk.
    void fill_risk(RowRange rows, Ranking& ranking) const;

    [[nodiscard]] const Plant& plant() const { return plant_; }
    [[nodiscard]] const RuleSet& rules() const { return rules_; }

  private:
    void choose_rows(std::optional<std::span<const std::uint32_t>> segments,
                     Ranking& ranking) const;

    const Plant& plant_;
    const RuleSet& rules_;
    ExposureRules exposure_;
    DegradationRules degradation_;
    LikelihoodRules likelihood_;
    ConsequenceRules consequence_;
    RiskRules risk_;
    std::vector<std::uint8_t> effectiveness_;  ///< by row of inspections.csv
    std::vector<std::uint8_t> crack_effectiveness_;
};

/// Calls `work` for blocks of rows that are all of one mechanism, wall loss first, as
/// for_each_block() does.
void for_each_mechanism_block(const MechanismRows& rows, const WorkPlan& plan,
                              const std::function<void(RowRange)>& work);

/// State and risk of every row at the date of the ranking.
/// @param also  done to each block of rows while it is near the processor
void fill_state_and_risk(const Method& method, const WorkPlan& plan, Ranking& ranking,
                         const std::function<void(RowRange)>& also = {});

/// The rows that stand for their segments and have a finite risk; the others of them go to
/// `not_ranked`.
[[nodiscard]] std::vector<std::uint32_t> rows_to_rank(Ranking& ranking);

/// Of two rows of equal risk the one whose segment has the lesser name goes before.
[[nodiscard]] RowBefore by_name(const Plant& plant, const Ranking& ranking);

/// Puts the rows to rank in order of risk, the greatest first, ties by segment name.  Replaces the
/// order that was there.
/// @param first  ranks wanted; those behind them stand in no order
void order_rows(const Plant& plant, const WorkPlan& plan, Ranking& ranking,
                std::size_t first = std::numeric_limits<std::size_t>::max());

}  // namespace lagline
