#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "choice/choice_problem.h"
#include "choice/components.h"

namespace lagline {

/// The components solved at given prices of the resources.
struct PricedChoice {
    double value = 0.0;     ///< priced objective less price x capacity: a bound, before rounding
    double rounding = 0.0;  ///< most by which rounding can have raised `value`
    std::vector<StrategyIndex> choice;  ///< by unit; relaxed bundles may fall apart
    std::vector<double> block_cost;     ///< money without prices, by block
    std::vector<double> block_use;      ///< block x resource
    std::vector<double> use;            ///< by resource, as the relaxation counts it

    [[nodiscard]] double proven() const { return value - rounding; }
};

/// Solves every component exactly at prices of the resources.  Components are worked in fixed
/// blocks and sums are taken in the order of blocks, so that results do not depend on threads.
/// @source docs/choice.md, eq. 3
class PricedComponents {
  public:
    static constexpr std::size_t most_blocks = 64;

    /// @param most_accesses  see components_of()
    PricedComponents(const ChoiceProblem& problem, unsigned threads,
                     std::size_t most_accesses = 10);

    [[nodiscard]] const ChoiceProblem& problem() const { return problem_; }
    [[nodiscard]] const Components& components() const { return components_; }
    [[nodiscard]] std::size_t blocks() const { return blocks_; }

    /// Least priced objective and the choice that has it; the lowest strategy wins a tie.
    /// @param prices  money per unit of resource, >= 0
    void solve(std::span<const double> prices, PricedChoice& out);

    /// For each strategy, by how much the priced objective rises when it is forced, >= 0 up to
    /// rounding.
    /// @source docs/choice.md, eq. 5
    void reduced_costs(std::span<const double> prices, std::vector<double>& out);

  private:
    struct Scratch;

    void price_accesses(std::span<const double> prices);
    void price_units(std::size_t component, std::span<const double> prices);
    void price_members(std::size_t component, Scratch& scratch) const;
    void unit_by_mask(UnitIndex unit, std::uint32_t pattern, bool any_pattern, std::size_t masks,
                      std::span<double> out) const;
    void bundle_by_mask(std::size_t member, std::size_t masks, Scratch& scratch,
                        std::span<double> out) const;
    void choose(std::size_t component, std::uint32_t mask, std::span<StrategyIndex> choice) const;
    [[nodiscard]] StrategyIndex best_of(UnitIndex unit, std::uint32_t pattern, bool any_pattern,
                                        std::uint32_t mask) const;
    [[nodiscard]] std::uint32_t best_pattern(std::size_t member, std::uint32_t mask) const;
    void others_by_mask(std::size_t component, std::size_t place, Scratch& scratch) const;
    void tally(std::size_t component, std::size_t block, PricedChoice& out) const;
    void force_each(std::size_t component, Scratch& scratch, std::vector<double>& out) const;
    void force_in_unit(std::size_t member, Scratch& scratch, std::vector<double>& out) const;
    void force_in_bundle(std::size_t member, Scratch& scratch, std::vector<double>& out) const;
    [[nodiscard]] bool shares() const { return components_.shared_accesses > 0; }

    const ChoiceProblem& problem_;
    Components components_;
    unsigned threads_;
    std::size_t blocks_ = 1;
    std::size_t block_components_ = 1;
    std::vector<double> strategy_price_;  ///< priced cost of each strategy, without access
    std::vector<double> access_price_;    ///< priced cost of each access
};

}  // namespace lagline
