#include "planning/plan_problem.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace lagline {
namespace {

using S = SegmentField;

// Key of the window that a strategy acts in; 0 for none.  Segments of a test pack share it.
std::uint32_t pattern_of(const Strategy& strategy) {
    return strategy.acts ? strategy.window + 1U : 0U;
}

class ProblemMaker {
  public:
    explicit ProblemMaker(const PlanInputs& inputs)
        : in_(inputs),
          limits_(inputs.windows.size()),
          access_(inputs.groups.size() * inputs.windows.size(), no_access) {}

    PlanProblem make() {
        add_resources();
        find_packs();
        for (std::size_t row = 0; row < in_.futures.rows(); ++row) add_unit(row);
        return std::move(made_);
    }

  private:
    static constexpr AccessIndex no_access = static_cast<AccessIndex>(-1);
    static constexpr std::size_t budget = crafts;  // place after the crafts
    using Limits = std::array<std::optional<ResourceIndex>, crafts + 1>;

    void add_resources() {
        made_.problem.resources.overrun_charge = in_.prices.overrun_charge;
        for (std::size_t w = 0; w < in_.windows.size(); ++w) {
            const PlanWindow& window = in_.windows[w];
            if (std::isfinite(window.budget)) {
                limits_[w][budget] = made_.problem.add_resource(window.budget, 1.0);
                made_.resources.push_back({w, std::nullopt});
            }
            for (std::size_t craft = 0; craft < crafts; ++craft) {
                if (!std::isfinite(window.hours[craft])) continue;
                limits_[w][craft] = made_.problem.add_resource(
                    window.hours[craft], in_.prices.hour[craft] * in_.prices.overtime_factor);
                made_.resources.push_back({w, static_cast<Craft>(craft)});
            }
        }
    }

    void add_use(std::size_t w, double money, const CraftHours& hours, std::vector<Use>& uses) {
        const auto add = [&](std::size_t place, double amount) {
            if (limits_[w][place] && amount > 0.0) uses.push_back({*limits_[w][place], amount});
        };
        add(budget, money);
        for (std::size_t craft = 0; craft < crafts; ++craft) add(craft, hours[craft]);
    }

    AccessIndex access_of(std::uint32_t group, std::size_t w) {
        AccessIndex& access = access_[group * in_.windows.size() + w];
        if (access == no_access) {
            CraftHours hours{};
            hours[static_cast<std::size_t>(Craft::scaffold)] = in_.groups.hours[group];
            std::vector<Use> uses;
            add_use(w, in_.groups.money[group], hours, uses);
            const double discount = in_.futures.horizon.discount(in_.windows[w].at_years);
            access = made_.problem.add_access(group, in_.groups.money[group] * discount, uses);
            made_.access_group.push_back(group);
            made_.access_window.push_back(w);
        }
        return access;
    }

    // What is left to a segment: all, or what opens it in time.
    [[nodiscard]] bool may_take(std::size_t row, const Strategy& strategy) const {
        const Deadline& deadline = in_.deadlines[row];
        if (!deadline.window || !deadline.can_be_met) return true;
        return strategy.opens() && strategy.window <= *deadline.window;
    }

    [[nodiscard]] std::vector<std::uint32_t> patterns_of(std::size_t row) const {
        std::vector<std::uint32_t> patterns;
        for (const Strategy& strategy : in_.strategies.of(row)) {
            if (may_take(row, strategy)) patterns.push_back(pattern_of(strategy));
        }
        std::ranges::sort(patterns);
        patterns.erase(std::unique(patterns.begin(), patterns.end()), patterns.end());
        return patterns;
    }

    [[nodiscard]] bool have_pattern_in_common(std::span<const std::size_t> rows) const {
        std::vector<std::uint32_t> common = patterns_of(rows.front());
        for (const std::size_t row : rows.subspan(1)) {
            const auto other = patterns_of(row);
            std::vector<std::uint32_t> both;
            std::ranges::set_intersection(common, other, std::back_inserter(both));
            common = std::move(both);
        }
        return !common.empty();
    }

    void find_packs() {
        bundle_.assign(in_.futures.rows(), no_bundle);
        std::map<std::string_view, std::vector<std::size_t>> packs;
        for (std::size_t row = 0; row < in_.futures.rows(); ++row) {
            const std::uint32_t segment = in_.futures.segment_rows[row];
            if (!in_.plant.segments.has(S::test_pack, segment)) continue;
            packs[in_.plant.segments.texts(S::test_pack)[segment]].push_back(row);
        }
        std::uint32_t bundle = 0;
        for (const auto& [name, rows] : packs) {
            if (rows.size() < 2) continue;
            if (!have_pattern_in_common(rows)) {
                made_.packs_apart.emplace_back(name);
                continue;
            }
            for (const std::size_t row : rows) bundle_[row] = bundle;
            ++bundle;
        }
    }

    void add_unit(std::size_t row) {
        made_.problem.add_unit(bundle_[row]);
        for (std::uint32_t s = in_.strategies.first[row]; s < in_.strategies.first[row + 1]; ++s) {
            const Strategy& strategy = in_.strategies.all[s];
            if (!may_take(row, strategy)) continue;
            const std::uint32_t group = in_.groups.of_row[row];
            const bool again = strategy.follows_later() && in_.groups.needs_scaffold(group);
            const double chance = again ? strategy.scaffold_in(strategy.follow_window) : 0.0;
            if (chance > 0.0 && chance < 1.0) add_strategy(s, group, chance, false);
            add_strategy(s, group, 0.0, chance > 0.0);
        }
    }

    // One way to reach the work: `own` is the part of the scaffold of its follow window that the
    // segment pays by itself; `shared` needs the whole one, which others may need too.
    void add_strategy(std::uint32_t s, std::uint32_t group, double own, bool shared) {
        const Strategy& strategy = in_.strategies.all[s];
        StrategyDraft draft;
        draft.cost = strategy.value();
        draft.pattern = pattern_of(strategy);
        for (std::size_t w = 0; strategy.acts && w < in_.windows.size(); ++w) {
            double money = strategy.money_in(w);
            CraftHours hours = strategy.hours_in(w);
            if (own > 0.0 && w == strategy.follow_window) {
                money += own * in_.groups.money[group];
                hours[static_cast<std::size_t>(Craft::scaffold)] += own * in_.groups.hours[group];
                draft.cost += own * in_.groups.money[group] *
                              in_.futures.horizon.discount(in_.windows[w].at_years);
            }
            add_use(w, money, hours, draft.uses);
        }
        if (strategy.acts && in_.groups.needs_scaffold(group)) {
            draft.needs.push_back(access_of(group, strategy.window));
            if (shared) draft.needs.push_back(access_of(group, strategy.follow_window));
        }
        made_.problem.add_strategy(draft);
        made_.strategy_of.push_back(s);
        made_.own_scaffold.push_back(own);
    }

    const PlanInputs& in_;
    PlanProblem made_;
    std::vector<Limits> limits_;
    std::vector<AccessIndex> access_;  ///< group x window
    std::vector<std::uint32_t> bundle_;
};

}  // namespace

void settle_scaffolds(const PlanProblem& problem, std::vector<StrategyIndex>& choice) {
    const ChoiceProblem& choices = problem.problem;
    const auto pays_own = [&](StrategyIndex s) { return problem.own_scaffold[s] > 0.0; };
    // The way that shares the scaffold stands behind the one that pays its own part.
    const auto shared_access = [&](StrategyIndex s) {
        return choices.strategies.needs.of(s + 1).back();
    };
    std::vector<double> needed(choices.access_count(), 0.0);
    for (StrategyIndex& s : choice) {
        if (s > 0 && pays_own(s - 1)) --s;
        for (const AccessIndex a : choices.strategies.needs.of(s)) needed[a] += 1.0;
        if (pays_own(s)) needed[shared_access(s)] += problem.own_scaffold[s];
    }
    for (StrategyIndex& s : choice) {
        if (pays_own(s) && needed[shared_access(s)] >= 1.0) ++s;
    }
}

PlanProblem plan_problem(const PlanInputs& inputs) { return ProblemMaker(inputs).make(); }

}  // namespace lagline
