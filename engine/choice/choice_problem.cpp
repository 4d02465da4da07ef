#include "choice/choice_problem.h"

#include <algorithm>
#include <iterator>
#include <map>

namespace lagline {

void UseTable::add(std::span<const Use> uses) {
    for (const Use& use : uses) {
        resource.push_back(use.resource);
        amount.push_back(use.amount);
    }
    first.push_back(static_cast<std::uint32_t>(resource.size()));
}

void IndexTable::add(std::span<const std::uint32_t> list) {
    index.insert(index.end(), list.begin(), list.end());
    first.push_back(static_cast<std::uint32_t>(index.size()));
}

ResourceIndex ChoiceProblem::add_resource(double capacity, double overrun_weight) {
    resources.capacity.push_back(capacity);
    resources.overrun_price.push_back(std::numeric_limits<double>::infinity());
    resources.overrun_weight.push_back(overrun_weight);
    return static_cast<ResourceIndex>(resource_count() - 1);
}

AccessIndex ChoiceProblem::add_access(std::uint32_t group, double cost, std::span<const Use> uses) {
    access.cost.push_back(cost);
    access.group.push_back(group);
    access.use.add(uses);
    return static_cast<AccessIndex>(access_count() - 1);
}

UnitIndex ChoiceProblem::add_unit(std::uint32_t bundle) {
    units.bundle.push_back(bundle);
    units.first_strategy.push_back(units.first_strategy.back());
    return static_cast<UnitIndex>(unit_count() - 1);
}

StrategyIndex ChoiceProblem::add_strategy(const StrategyDraft& draft) {
    strategies.cost.push_back(draft.cost);
    strategies.pattern.push_back(draft.pattern);
    strategies.use.add(draft.uses);
    strategies.needs.add(draft.needs);
    ++units.first_strategy.back();
    return static_cast<StrategyIndex>(strategy_count() - 1);
}

ReducedProblem with_only(const ChoiceProblem& problem, std::span<const std::uint8_t> keep) {
    ReducedProblem out;
    out.problem.resources = problem.resources;
    out.problem.access = problem.access;
    StrategyDraft draft;
    for (UnitIndex unit = 0; unit < problem.unit_count(); ++unit) {
        out.problem.add_unit(problem.units.bundle[unit]);
        for (StrategyIndex s = problem.begin(unit); s < problem.end(unit); ++s) {
            if (keep[s] == 0) continue;
            const UseTable& use = problem.strategies.use;
            const auto needs = problem.strategies.needs.of(s);
            draft.cost = problem.strategies.cost[s];
            draft.pattern = problem.strategies.pattern[s];
            draft.uses.clear();
            for (std::uint32_t k = use.first[s]; k < use.first[s + 1]; ++k) {
                draft.uses.push_back({use.resource[k], use.amount[k]});
            }
            draft.needs.assign(needs.begin(), needs.end());
            out.problem.add_strategy(draft);
            out.kept.push_back(s);
        }
    }
    return out;
}

std::vector<std::uint32_t> common_patterns(const ChoiceProblem& problem,
                                           std::span<const UnitIndex> members) {
    std::vector<std::uint32_t> common;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const auto from = problem.strategies.pattern.begin();
        std::vector<std::uint32_t> own(from + problem.begin(members[i]),
                                       from + problem.end(members[i]));
        std::ranges::sort(own);
        own.erase(std::unique(own.begin(), own.end()), own.end());
        if (i == 0) {
            common = std::move(own);
            continue;
        }
        std::vector<std::uint32_t> both;
        std::ranges::set_intersection(common, own, std::back_inserter(both));
        common = std::move(both);
    }
    return common;
}

IndexTable bundles_of(const ChoiceProblem& problem) {
    std::map<std::uint32_t, std::size_t> place;
    std::vector<std::vector<UnitIndex>> members;
    for (UnitIndex unit = 0; unit < problem.unit_count(); ++unit) {
        const std::uint32_t bundle = problem.units.bundle[unit];
        if (bundle == no_bundle) continue;
        const auto [at, is_new] = place.try_emplace(bundle, members.size());
        if (is_new) members.emplace_back();
        members[at->second].push_back(unit);
    }
    IndexTable table;
    for (const auto& list : members) table.add(list);
    return table;
}

}  // namespace lagline
