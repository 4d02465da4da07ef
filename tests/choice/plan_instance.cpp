#include "choice/plan_instance.h"

#include <array>
#include <cmath>
#include <vector>

#include "synthesis/dice.h"

namespace choice_test {

using namespace lagline;

namespace {

/// Screen from outside; open part and inspect; strip, inspect and recoat.
struct Action {
    double price_per_metre;
    double hours_per_metre;
    double loss_left;  ///< part of the loss that remains after it
};
constexpr std::array<Action, 3> actions = {
    {{60.0, 0.4, 0.75}, {420.0, 3.0, 0.35}, {1150.0, 9.0, 0.05}}};

constexpr double discount_per_window = 0.94;

struct Segment {
    double length_m = 0.0;
    double loss_per_window = 0.0;
    double growth = 1.0;  ///< of the loss from one window to the next
    bool compulsory = false;
};

Segment made_segment(const PlanRecipe& recipe, Dice& dice) {
    Segment out;
    out.length_m = std::round(4.0 * std::pow(12.0, dice.share()));
    // Few carry most of the risk: losses over three decades, log-uniform.
    double severity = dice.share();
    severity *= dice.share();
    out.loss_per_window = std::round(300.0 * std::pow(1000.0, severity));
    out.growth = dice.between(1.05, 1.5);
    out.compulsory = dice.chance(recipe.compulsory_share);
    return out;
}

class Maker {
  public:
    explicit Maker(const PlanRecipe& recipe)
        : recipe_(recipe), dice_(recipe.seed, Subject::segment, 0) {}

    ChoiceProblem make() {
        for (std::size_t i = 0; i < recipe_.segments; ++i) {
            segments_.push_back(made_segment(recipe_, dice_));
        }
        resources();
        accesses();
        for (std::size_t i = 0; i < segments_.size(); ++i) unit(i);
        return std::move(problem_);
    }

  private:
    void resources() {
        double money = 0.0;
        double hours = 0.0;
        for (const Segment& segment : segments_) {
            money += segment.length_m * actions[1].price_per_metre;
            hours += segment.length_m * actions[1].hours_per_metre;
        }
        for (std::size_t w = 0; w < recipe_.windows; ++w) {
            problem_.add_resource(std::round(recipe_.budget_share * money));
            problem_.add_resource(std::round(recipe_.hours_share * hours), 90.0);
        }
    }

    void accesses() {
        const std::size_t groups = (recipe_.segments + recipe_.group_size - 1) / recipe_.group_size;
        for (std::size_t g = 0; g < groups; ++g) {
            const double height_m = dice_.between(2.0, 18.0);
            const double cost = std::round(900.0 + 420.0 * height_m);
            for (std::size_t w = 0; w < recipe_.windows; ++w) {
                const auto r = static_cast<ResourceIndex>(2 * w);
                const std::array<Use, 2> uses = {
                    {{r, cost}, {r + 1, std::round(6.0 + 2.5 * height_m)}}};
                problem_.add_access(static_cast<std::uint32_t>(g),
                                    cost * std::pow(discount_per_window, static_cast<double>(w)),
                                    uses);
            }
        }
    }

    /// Loss in windows [from, to), discounted.
    double loss(const Segment& segment, std::size_t from, std::size_t to) const {
        double sum = 0.0;
        for (std::size_t w = from; w < to; ++w) {
            const auto when = static_cast<double>(w);
            sum += segment.loss_per_window * std::pow(segment.growth * discount_per_window, when);
        }
        return sum;
    }

    void unit(std::size_t i) {
        const Segment& segment = segments_[i];
        const std::size_t pair = i / 2;
        if (i % 2 == 0) pair_linked_ = dice_.chance(recipe_.bundle_share);
        problem_.add_unit(pair_linked_ ? static_cast<std::uint32_t>(pair) : no_bundle);
        const std::size_t horizon = recipe_.windows + 2;
        const bool leave = !segment.compulsory || pair_linked_;
        if (leave) problem_.add_strategy({loss(segment, 0, horizon), 0, {}, {}});
        for (std::size_t w = 0; w < recipe_.windows; ++w) {
            for (const Action& action : actions) {
                const double price = std::round(segment.length_m * action.price_per_metre);
                const double hours = segment.length_m * action.hours_per_metre;
                const double now = std::pow(discount_per_window, static_cast<double>(w));
                StrategyDraft draft;
                draft.cost = price * now + loss(segment, 0, w) +
                             action.loss_left * loss(segment, w, horizon);
                draft.pattern = static_cast<std::uint32_t>(w + 1);
                draft.uses = {{static_cast<ResourceIndex>(2 * w), price},
                              {static_cast<ResourceIndex>(2 * w + 1), hours}};
                draft.needs = {
                    static_cast<AccessIndex>((i / recipe_.group_size) * recipe_.windows + w)};
                problem_.add_strategy(draft);
            }
        }
    }

    PlanRecipe recipe_;
    Dice dice_;
    std::vector<Segment> segments_;
    ChoiceProblem problem_;
    bool pair_linked_ = false;
};

}  // namespace

ChoiceProblem plan_instance(const PlanRecipe& recipe) { return Maker(recipe).make(); }

}  // namespace choice_test
