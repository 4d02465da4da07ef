#include "choice/priced_components.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "blocks/parallel.h"

namespace lagline {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// out[m] = least of out[subsets of m].
void spread_up(std::span<double> out) {
    for (std::size_t bit = 1; bit < out.size(); bit <<= 1U) {
        for (std::size_t m = 0; m < out.size(); ++m) {
            if ((m & bit) != 0) out[m] = std::min(out[m], out[m ^ bit]);
        }
    }
}

/// out[m] = least of out[supersets of m].
void spread_down(std::span<double> out) {
    for (std::size_t bit = 1; bit < out.size(); bit <<= 1U) {
        for (std::size_t m = 0; m < out.size(); ++m) {
            if ((m & bit) == 0) out[m] = std::min(out[m], out[m | bit]);
        }
    }
}

}  // namespace

/// Room for one component at a time, by mask of open accesses; one a block, so that nothing is
/// allocated once it has grown.
struct PricedComponents::Scratch {
    std::span<double> member(std::size_t i) {
        return std::span(by_member).subspan(i * masks, masks);
    }

    std::size_t masks = 1;
    double least = 0.0;             ///< of `total`
    std::vector<double> total;      ///< priced objective of the component
    std::vector<double> by_member;  ///< member x mask
    std::vector<double> part;       ///< one unit
    std::vector<double> sum;        ///< one pattern
    std::vector<double> others;     ///< all members but one, and the accesses
    std::vector<double> rest;
};

PricedComponents::PricedComponents(const ChoiceProblem& problem, unsigned threads,
                                   std::size_t most_accesses)
    : problem_(problem), components_(components_of(problem, most_accesses)), threads_(threads) {
    const std::size_t all = components_.size();
    block_components_ = std::max<std::size_t>(1, (all + most_blocks - 1) / most_blocks);
    blocks_ = std::max<std::size_t>(1, (all + block_components_ - 1) / block_components_);
    strategy_price_.resize(problem.strategy_count());
    access_price_.resize(problem.access_count());
}

void PricedComponents::price_accesses(std::span<const double> prices) {
    for (AccessIndex a = 0; a < access_price_.size(); ++a) {
        access_price_[a] = problem_.access.cost[a] + problem_.access.use.priced(a, prices);
    }
}

void PricedComponents::price_units(std::size_t component, std::span<const double> prices) {
    const std::uint32_t first = components_.first_unit[components_.first_member[component]];
    const std::uint32_t last = components_.first_unit[components_.first_member[component + 1]];
    for (std::uint32_t u = first; u < last; ++u) {
        const UnitIndex unit = components_.units[u];
        for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
            double priced = problem_.strategies.cost[s] + problem_.strategies.use.priced(s, prices);
            if (shares()) {
                for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                    priced += components_.share[a] * access_price_[a];
                }
            }
            strategy_price_[s] = priced;
        }
    }
}

void PricedComponents::unit_by_mask(UnitIndex unit, std::uint32_t pattern, bool any_pattern,
                                    std::size_t masks, std::span<double> out) const {
    std::ranges::fill(out.first(masks), infinity);
    for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
        if (!any_pattern && problem_.strategies.pattern[s] != pattern) continue;
        double& best = out[components_.mask[s]];
        best = std::min(best, strategy_price_[s]);
    }
    spread_up(out.first(masks));
}

void PricedComponents::bundle_by_mask(std::size_t member, std::size_t masks, Scratch& scratch,
                                      std::span<double> out) const {
    std::ranges::fill(out, infinity);
    scratch.part.resize(masks);
    scratch.sum.resize(masks);
    for (const std::uint32_t pattern : components_.patterns.of(member)) {
        std::ranges::fill(scratch.sum, 0.0);
        for (std::uint32_t u = components_.first_unit[member];
             u < components_.first_unit[member + 1]; ++u) {
            unit_by_mask(components_.units[u], pattern, false, masks, scratch.part);
            for (std::size_t m = 0; m < masks; ++m) scratch.sum[m] += scratch.part[m];
        }
        for (std::size_t m = 0; m < masks; ++m) out[m] = std::min(out[m], scratch.sum[m]);
    }
}

/// Fills scratch.total and scratch.by_member.
void PricedComponents::price_members(std::size_t component, Scratch& scratch) const {
    const auto accesses = components_.access.of(component);
    const std::size_t masks = std::size_t{1} << accesses.size();
    const std::uint32_t first = components_.first_member[component];
    const std::uint32_t last = components_.first_member[component + 1];
    scratch.masks = masks;
    scratch.total.assign(masks, 0.0);
    scratch.by_member.resize((last - first) * masks);
    for (std::size_t bit = 0; bit < accesses.size(); ++bit) {
        for (std::size_t m = 0; m < masks; ++m) {
            if (((m >> bit) & 1U) != 0) scratch.total[m] += access_price_[accesses[bit]];
        }
    }
    for (std::uint32_t member = first; member < last; ++member) {
        const auto out = scratch.member(member - first);
        if (components_.patterns.of(member).empty()) {
            const UnitIndex unit = components_.units[components_.first_unit[member]];
            unit_by_mask(unit, 0, true, masks, out);
        } else {
            bundle_by_mask(member, masks, scratch, out);
        }
        for (std::size_t m = 0; m < masks; ++m) scratch.total[m] += out[m];
    }
    scratch.least = *std::ranges::min_element(scratch.total);
}

StrategyIndex PricedComponents::best_of(UnitIndex unit, std::uint32_t pattern, bool any_pattern,
                                        std::uint32_t mask) const {
    StrategyIndex best = problem_.end(unit);
    double least = infinity;
    for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
        if (!any_pattern && problem_.strategies.pattern[s] != pattern) continue;
        if ((components_.mask[s] & ~mask) != 0 || !(strategy_price_[s] < least)) continue;
        least = strategy_price_[s];
        best = s;
    }
    return best;
}

std::uint32_t PricedComponents::best_pattern(std::size_t member, std::uint32_t mask) const {
    std::uint32_t best = 0;
    double least = infinity;
    for (const std::uint32_t pattern : components_.patterns.of(member)) {
        double sum = 0.0;
        for (std::uint32_t u = components_.first_unit[member];
             u < components_.first_unit[member + 1]; ++u) {
            const UnitIndex unit = components_.units[u];
            const StrategyIndex s = best_of(unit, pattern, false, mask);
            if (s == problem_.end(unit)) {
                sum = infinity;
            } else {
                sum += strategy_price_[s];
            }
        }
        if (!(sum < least)) continue;
        least = sum;
        best = pattern;
    }
    return best;
}

void PricedComponents::choose(std::size_t component, std::uint32_t mask,
                              std::span<StrategyIndex> choice) const {
    for (std::uint32_t member = components_.first_member[component];
         member < components_.first_member[component + 1]; ++member) {
        const bool alone = components_.patterns.of(member).empty();
        const std::uint32_t pattern = alone ? 0 : best_pattern(member, mask);
        for (std::uint32_t u = components_.first_unit[member];
             u < components_.first_unit[member + 1]; ++u) {
            const UnitIndex unit = components_.units[u];
            choice[unit] = best_of(unit, pattern, alone, mask);
        }
    }
}

/// Adds cost and use of the chosen strategies of one component to its block.
void PricedComponents::tally(std::size_t component, std::size_t block, PricedChoice& out) const {
    const std::size_t resources = problem_.resource_count();
    const auto use = std::span(out.block_use).subspan(block * resources, resources);
    std::uint32_t open = 0;
    const std::uint32_t first = components_.first_unit[components_.first_member[component]];
    const std::uint32_t last = components_.first_unit[components_.first_member[component + 1]];
    for (std::uint32_t u = first; u < last; ++u) {
        const StrategyIndex s = out.choice[components_.units[u]];
        open |= components_.mask[s];
        out.block_cost[block] += problem_.strategies.cost[s];
        problem_.strategies.use.add_to(use, s);
        if (!shares()) continue;
        for (const AccessIndex a : problem_.strategies.needs.of(s)) {
            out.block_cost[block] += components_.share[a] * problem_.access.cost[a];
            if (components_.share[a] > 0.0)
                problem_.access.use.add_to(use, a, components_.share[a]);
        }
    }
    for (const AccessIndex a : components_.access.of(component)) {
        if ((open & 1U) != 0) {
            out.block_cost[block] += problem_.access.cost[a];
            problem_.access.use.add_to(use, a);
        }
        open >>= 1U;
    }
}

void PricedComponents::solve(std::span<const double> prices, PricedChoice& out) {
    const std::size_t resources = problem_.resource_count();
    price_accesses(prices);
    out.choice.resize(problem_.unit_count());
    out.block_cost.assign(blocks_, 0.0);
    out.block_use.assign(blocks_ * resources, 0.0);
    std::vector<double> block_value(blocks_, 0.0);
    std::vector<double> block_size(blocks_, 0.0);
    const auto work = [&](std::size_t block, RowRange range) {
        Scratch scratch;
        for (std::size_t c = range.begin; c < range.end; ++c) {
            price_units(c, prices);
            price_members(c, scratch);
            const auto least = std::ranges::min_element(scratch.total);
            block_value[block] += scratch.least;
            block_size[block] += std::abs(scratch.least);
            choose(c, static_cast<std::uint32_t>(least - scratch.total.begin()), out.choice);
            tally(c, block, out);
        }
    };
    for_each_block(components_.size(), {.block_rows = block_components_, .threads = threads_},
                   work);
    out.use.assign(resources, 0.0);
    out.value = 0.0;
    double size = 0.0;
    for (std::size_t b = 0; b < blocks_; ++b) {
        out.value += block_value[b];
        size += block_size[b];
        for (std::size_t r = 0; r < resources; ++r) out.use[r] += out.block_use[b * resources + r];
    }
    for (std::size_t r = 0; r < resources; ++r) {
        if (prices[r] <= 0.0) continue;  // also keeps 0 x infinity out
        out.value -= prices[r] * problem_.resources.capacity[r];
        size += std::abs(prices[r] * problem_.resources.capacity[r]);
    }
    // Each sum has at most so many terms after one another, each rounded by half a unit.
    const auto terms = static_cast<double>(block_components_ + blocks_ + 2 * resources + 256);
    out.rounding = std::numeric_limits<double>::epsilon() * terms * size;
}

/// scratch.others = the component without the member at `place`.  Where that member has no strategy
/// the total is infinite, and the others are added up anew.
void PricedComponents::others_by_mask(std::size_t component, std::size_t place,
                                      Scratch& scratch) const {
    const auto own = scratch.member(place);
    const auto accesses = components_.access.of(component);
    const std::size_t members = scratch.by_member.size() / scratch.masks;
    scratch.others.resize(scratch.masks);
    for (std::size_t m = 0; m < scratch.masks; ++m) {
        if (std::isfinite(own[m])) {
            scratch.others[m] = scratch.total[m] - own[m];
            continue;
        }
        double sum = 0.0;
        for (std::size_t bit = 0; bit < accesses.size(); ++bit) {
            if (((m >> bit) & 1U) != 0) sum += access_price_[accesses[bit]];
        }
        for (std::size_t i = 0; i < members; ++i) {
            if (i != place) sum += scratch.member(i)[m];
        }
        scratch.others[m] = sum;
    }
}

void PricedComponents::force_in_unit(std::size_t member, Scratch& scratch,
                                     std::vector<double>& out) const {
    scratch.rest = scratch.others;
    spread_down(scratch.rest);
    const UnitIndex unit = components_.units[components_.first_unit[member]];
    for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
        out[s] = scratch.rest[components_.mask[s]] + strategy_price_[s] - scratch.least;
    }
}

void PricedComponents::force_in_bundle(std::size_t member, Scratch& scratch,
                                       std::vector<double>& out) const {
    const auto units =
        std::span(components_.units)
            .subspan(components_.first_unit[member],
                     components_.first_unit[member + 1] - components_.first_unit[member]);
    scratch.part.resize(scratch.masks);
    for (const UnitIndex unit : units) {
        // Stays infinite for a pattern that the others cannot follow.
        std::fill(out.begin() + problem_.begin(unit), out.begin() + problem_.end(unit), infinity);
        for (const std::uint32_t pattern : components_.patterns.of(member)) {
            scratch.rest = scratch.others;
            for (const UnitIndex other : units) {
                if (other == unit) continue;
                unit_by_mask(other, pattern, false, scratch.masks, scratch.part);
                for (std::size_t m = 0; m < scratch.masks; ++m) scratch.rest[m] += scratch.part[m];
            }
            spread_down(scratch.rest);
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                if (problem_.strategies.pattern[s] != pattern) continue;
                out[s] = scratch.rest[components_.mask[s]] + strategy_price_[s] - scratch.least;
            }
        }
    }
}

void PricedComponents::force_each(std::size_t component, Scratch& scratch,
                                  std::vector<double>& out) const {
    const std::uint32_t first = components_.first_member[component];
    for (std::uint32_t member = first; member < components_.first_member[component + 1]; ++member) {
        others_by_mask(component, member - first, scratch);
        if (components_.patterns.of(member).empty()) {
            force_in_unit(member, scratch, out);
        } else {
            force_in_bundle(member, scratch, out);
        }
    }
}

void PricedComponents::reduced_costs(std::span<const double> prices, std::vector<double>& out) {
    price_accesses(prices);
    out.assign(problem_.strategy_count(), 0.0);
    const auto work = [&](std::size_t, RowRange range) {
        Scratch scratch;
        for (std::size_t c = range.begin; c < range.end; ++c) {
            price_units(c, prices);
            price_members(c, scratch);
            force_each(c, scratch, out);
        }
    };
    for_each_block(components_.size(), {.block_rows = block_components_, .threads = threads_},
                   work);
}

}  // namespace lagline
