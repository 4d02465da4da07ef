#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "likelihood/updating.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Present value of the losses to come in each damage state.
using StateLosses = std::array<double, damage_states>;

/// What an inspection can report: the damage state that it found.
inline constexpr std::size_t inspection_outcomes = damage_states;
inline constexpr std::size_t most_reactions = 8;

/// P(outcome j | state k) as [k][j]; every row sums to 1.
using OutcomeTable = std::array<std::array<double, inspection_outcomes>, damage_states>;

/// The published conditional probabilities (a, b, c) of an effectiveness, completed to outcomes:
/// (a, b, c) in state 1, (b, a, c) in state 2, (c, b, a) in state 3 (eq. 88).  Scaled to sum 1.
/// @param conditional  grid effectiveness x damage state
/// @source API RP 581, 3rd edition, Part 2, Table 4.6 for outcome 1; the rest is our completion
[[nodiscard]] OutcomeTable outcome_table(const GridTable& conditional, std::uint8_t effectiveness);

/// One thing that may be done.  Present values in plant currency.
struct PricedReaction {
    double cost = 0.0;
    StateLosses losses{};
};

/// @throws std::invalid_argument  when a tree cannot have so many reactions
void require_reactions(std::size_t count);

/// Decision tree of one inspection of one segment, with every number in it.
struct InspectionTree {
    struct Outcome {
        double probability = 0.0;
        std::array<double, damage_states> posterior{};
        std::array<double, most_reactions> expected{};  ///< cost and loss of each reaction
        std::size_t best = 0;                           ///< reaction
    };

    bool by_states = true;  ///< false for cracking: only outcome 0, without states
    std::array<double, damage_states> states{};
    OutcomeTable outcome_given_state{};
    std::size_t reaction_count = 0;
    std::array<PricedReaction, most_reactions> reactions{};
    std::array<double, most_reactions> expected{};  ///< cost and loss of each without inspecting
    std::size_t best = 0;                           ///< reaction without inspecting
    std::array<Outcome, inspection_outcomes> outcomes{};
    double loss_uninformed = 0.0;   ///< of the best reaction without inspecting
    double loss_informed = 0.0;     ///< expected, of the best reaction to each outcome
    double value = 0.0;             ///< of inspecting (eq. 91), >= 0; the inspection costs apart
    double value_of_knowing = 0.0;  ///< of perfect knowledge of the state (eq. 92), >= value

    [[nodiscard]] std::size_t outcome_count() const { return by_states ? inspection_outcomes : 1; }
    /// True when some outcome has another best reaction than no inspection.
    [[nodiscard]] bool changes_reaction() const;
};

/// The tree over damage states (eq. 88 to 92).  Of reactions that are equal but for rounding the
/// one that is best without inspecting stays.
/// @param states     probability of each damage state before the inspection
/// @param reactions  1 to most_reactions
[[nodiscard]] InspectionTree inspection_tree(const std::array<double, damage_states>& states,
                                             const OutcomeTable& outcomes,
                                             std::span<const PricedReaction> reactions);

/// The tree of a mechanism without damage states: the inspection is taken to find nothing, and
/// buys its published credit, with which each reaction has the losses `credited` in place of
/// `as_is`. Both lists name the same reactions in the same order.
[[nodiscard]] InspectionTree credit_tree(std::span<const PricedReaction> as_is,
                                         std::span<const PricedReaction> credited);

}  // namespace lagline
