#include "planning/pre_posterior.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace lagline {
namespace {

using States = std::array<double, damage_states>;
using Expected = std::array<double, most_reactions>;

// Reactions nearer to each other than this share of the loss are equal: what sets them apart is
// rounding.
constexpr double rounding = 1e-12;

bool better(double loss, double than) { return loss < than - rounding * std::abs(than); }

void take_reactions(std::span<const PricedReaction> reactions, InspectionTree& tree) {
    require_reactions(reactions.size());
    tree.reaction_count = reactions.size();
    std::ranges::copy(reactions, tree.reactions.begin());
}

// eq. 90 and the same with the prior: what each reaction costs in all.
Expected expected_losses(const InspectionTree& tree, const States& states) {
    Expected expected{};
    for (std::size_t r = 0; r < tree.reaction_count; ++r) {
        const PricedReaction& reaction = tree.reactions[r];
        expected[r] = reaction.cost + states[0] * reaction.losses[0] +
                      states[1] * reaction.losses[1] + states[2] * reaction.losses[2];
    }
    return expected;
}

// The best reaction; `usual` unless another one is better by more than rounding.
std::size_t best_of(const Expected& expected, std::size_t count, std::size_t usual) {
    std::size_t best = usual;
    for (std::size_t r = 0; r < count; ++r) {
        if (better(expected[r], expected[best])) best = r;
    }
    return best;
}

// What the best reaction to a state that is known saves, over the states (eq. 92).
double value_of_knowing(const InspectionTree& tree) {
    double value = 0.0;
    for (std::size_t k = 0; k < damage_states; ++k) {
        States known{};
        known[k] = 1.0;
        const Expected expected = expected_losses(tree, known);
        const std::size_t best = best_of(expected, tree.reaction_count, tree.best);
        value += tree.states[k] * (expected[tree.best] - expected[best]);
    }
    return value;
}

void fill_outcome(std::size_t outcome, InspectionTree& tree) {
    InspectionTree::Outcome& out = tree.outcomes[outcome];
    States joint{};
    for (std::size_t k = 0; k < damage_states; ++k) {
        joint[k] = tree.states[k] * tree.outcome_given_state[k][outcome];
    }
    out.probability = joint[0] + joint[1] + joint[2];
    for (std::size_t k = 0; k < damage_states; ++k) {
        // An outcome that cannot be teaches nothing.
        out.posterior[k] =
            out.probability > 0.0 ? joint[k] / out.probability : tree.states[k];  // eq. 89
    }
    out.expected = expected_losses(tree, out.posterior);
    out.best = best_of(out.expected, tree.reaction_count, tree.best);
}

}  // namespace

OutcomeTable outcome_table(const GridTable& conditional, std::uint8_t effectiveness) {
    States told{};
    double sum = 0.0;
    for (std::size_t k = 0; k < damage_states; ++k) {
        told[k] = conditional.at(effectiveness, static_cast<std::uint8_t>(k)).value;
        sum += told[k];
    }
    const double a = told[0] / sum;
    const double b = told[1] / sum;
    const double c = told[2] / sum;
    return {{{a, b, c}, {b, a, c}, {c, b, a}}};  // eq. 88
}

void require_reactions(std::size_t count) {
    if (count == 0 || count > most_reactions) {
        throw std::invalid_argument{"an inspection tree has 1 to 8 reactions"};
    }
}

bool InspectionTree::changes_reaction() const {
    return std::ranges::any_of(
        std::span{outcomes}.first(outcome_count()),
        [&](const Outcome& each) { return each.probability > 0.0 && each.best != best; });
}

InspectionTree inspection_tree(const States& states, const OutcomeTable& outcomes,
                               std::span<const PricedReaction> reactions) {
    InspectionTree tree;
    tree.states = states;
    tree.outcome_given_state = outcomes;
    take_reactions(reactions, tree);
    tree.expected = expected_losses(tree, states);
    tree.best = best_of(tree.expected, tree.reaction_count, 0);
    tree.loss_uninformed = tree.expected[tree.best];
    for (std::size_t j = 0; j < inspection_outcomes; ++j) {
        fill_outcome(j, tree);
        const InspectionTree::Outcome& outcome = tree.outcomes[j];
        tree.loss_informed += outcome.probability * outcome.expected[outcome.best];
        // Outcome by outcome, so that what changes nothing is worth nothing to the last bit.
        tree.value += outcome.probability *
                      (outcome.expected[tree.best] - outcome.expected[outcome.best]);  // eq. 91
    }
    tree.value_of_knowing = value_of_knowing(tree);
    return tree;
}

InspectionTree credit_tree(std::span<const PricedReaction> as_is,
                           std::span<const PricedReaction> credited) {
    InspectionTree tree;
    tree.by_states = false;
    tree.states = {1.0, 0.0, 0.0};
    tree.outcome_given_state = {{{1.0, 0.0, 0.0}, {1.0, 0.0, 0.0}, {1.0, 0.0, 0.0}}};
    take_reactions(as_is, tree);
    tree.expected = expected_losses(tree, tree.states);
    tree.best = best_of(tree.expected, tree.reaction_count, 0);
    tree.loss_uninformed = tree.expected[tree.best];
    InspectionTree after;
    take_reactions(credited, after);
    InspectionTree::Outcome& outcome = tree.outcomes[0];
    outcome.probability = 1.0;
    outcome.posterior = tree.states;
    outcome.expected = expected_losses(after, tree.states);
    outcome.best = best_of(outcome.expected, tree.reaction_count, tree.best);
    tree.loss_informed = outcome.expected[outcome.best];
    tree.value = tree.loss_uninformed - tree.loss_informed;
    tree.value_of_knowing = tree.value;
    return tree;
}

}  // namespace lagline
