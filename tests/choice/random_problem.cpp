#include "choice/random_problem.h"

#include <limits>
#include <utility>
#include <vector>

#include "synthesis/dice.h"

namespace choice_test {

using namespace lagline;

namespace {

class Maker {
  public:
    explicit Maker(std::uint64_t number)
        : dice_(7, Subject::segment, number),
          windows_(static_cast<std::uint32_t>(dice_.whole(1, 3))),
          groups_(static_cast<std::uint32_t>(dice_.whole(1, 3))),
          scarcity_(dice_.between(0.05, 1.0)) {}

    ChoiceProblem make() {
        resources();
        for (std::uint32_t g = 0; g < groups_; ++g) {
            for (std::uint32_t w = 0; w < windows_; ++w) access(g, w);
        }
        const int count = dice_.whole(2, 7);
        const bool bundles = dice_.chance(0.4);
        for (int i = 0; i < count; ++i) {
            const bool bundled = bundles && dice_.chance(0.6);
            const int bundle = dice_.whole(0, 1);
            unit(bundled ? static_cast<std::uint32_t>(bundle) : no_bundle);
        }
        return std::move(problem_);
    }

  private:
    void resources() {
        for (std::uint32_t w = 0; w < windows_; ++w) {
            for (const double full : {60.0, 40.0}) {
                const double limit = full * scarcity_ * dice_.between(0.5, 1.5);
                const double weight = dice_.between(0.5, 2.0);
                const bool endless = dice_.chance(0.1);
                const ResourceIndex r = problem_.add_resource(
                    endless ? std::numeric_limits<double>::infinity() : limit, weight);
                const bool priced = dice_.chance(0.1);
                const double price = dice_.between(0.0, 5.0);
                if (priced) problem_.resources.overrun_price[r] = price;
            }
        }
    }

    void access(std::uint32_t group, std::uint32_t window) {
        const bool free = dice_.chance(0.2);
        const double cost = free ? 0.0 : dice_.between(1.0, 15.0);
        const double hours = dice_.between(0.0, 5.0);
        const std::vector<Use> uses = {{2 * window, cost}, {2 * window + 1, hours}};
        problem_.add_access(group, cost, uses);
    }

    void unit(std::uint32_t bundle) {
        problem_.add_unit(bundle);
        const auto group =
            static_cast<std::uint32_t>(dice_.whole(0, static_cast<int>(groups_) - 1));
        // A unit of a bundle keeps the way out, so that the bundle always has a common pattern.
        const bool leave = bundle != no_bundle || !dice_.chance(0.3);
        const double loss = dice_.between(5.0, 60.0);
        if (leave) problem_.add_strategy({loss, 0, {}, {}});
        const int options = dice_.whole(leave ? 0 : 1, 3);
        for (int i = 0; i < options; ++i) action(group, loss);
    }

    void action(std::uint32_t group, double loss) {
        const auto window =
            static_cast<std::uint32_t>(dice_.whole(0, static_cast<int>(windows_) - 1));
        const double price = dice_.between(1.0, 20.0);
        const double hours = dice_.between(0.0, 12.0);
        const double left = dice_.share();
        StrategyDraft draft;
        draft.cost = price + left * loss;
        draft.pattern = window + 1;
        draft.uses = {{2 * window, price}, {2 * window + 1, hours}};
        draft.needs = {group * windows_ + window};
        const bool twice = dice_.chance(0.25);
        const bool across = dice_.chance(0.15);
        const std::uint32_t other = across ? (group + 1) % groups_ : group;
        const std::uint32_t then = (window + 1) % windows_;
        if (twice) draft.needs.push_back(other * windows_ + then);
        if (dice_.chance(0.1)) draft.needs.clear();
        problem_.add_strategy(draft);
    }

    Dice dice_;
    std::uint32_t windows_;
    std::uint32_t groups_;
    double scarcity_;
    ChoiceProblem problem_;
};

}  // namespace

ChoiceProblem random_problem(std::uint64_t number) { return Maker(number).make(); }

}  // namespace choice_test
