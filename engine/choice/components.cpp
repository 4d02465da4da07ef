#include "choice/components.h"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <set>

namespace lagline {
namespace {

constexpr std::uint32_t nobody = std::numeric_limits<std::uint32_t>::max();

/// Sets of units; the name of a set is its lowest unit.
class Sets {
  public:
    explicit Sets(std::size_t size) : parent_(size) {
        std::iota(parent_.begin(), parent_.end(), 0U);
    }
    std::uint32_t name(std::uint32_t unit) {
        while (parent_[unit] != unit) unit = parent_[unit] = parent_[parent_[unit]];
        return unit;
    }
    void join(std::uint32_t a, std::uint32_t b) {
        const std::uint32_t left = name(a);
        const std::uint32_t right = name(b);
        parent_[std::max(left, right)] = std::min(left, right);
    }

  private:
    std::vector<std::uint32_t> parent_;
};

class Builder {
  public:
    Builder(const ChoiceProblem& problem, std::size_t most_accesses)
        : problem_(problem),
          most_accesses_(most_accesses),
          bundles_(bundles_of(problem)),
          bundle_holds_(bundles_.size(), false),
          access_holds_(problem.access_count(), true),
          needing_units_(problem.access_count(), 0) {}

    Components build() {
        std::vector<std::uint32_t> sets = joined();
        for (const std::uint32_t large : too_large(sets)) share_accesses(sets, large);
        link_bundles(joined());
        return arrange(joined());
    }

  private:
    std::vector<std::uint32_t> joined() {
        Sets sets(problem_.unit_count());
        std::vector<std::uint32_t> owner(problem_.access_count(), nobody);
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                    if (!access_holds_[a]) continue;
                    if (owner[a] == nobody) owner[a] = unit;
                    sets.join(owner[a], unit);
                }
            }
        }
        for (std::size_t b = 0; b < bundles_.size(); ++b) {
            if (!bundle_holds_[b]) continue;
            for (const UnitIndex unit : bundles_.of(b)) sets.join(bundles_.of(b).front(), unit);
        }
        std::vector<std::uint32_t> names(problem_.unit_count());
        for (UnitIndex unit = 0; unit < names.size(); ++unit) names[unit] = sets.name(unit);
        owner_of_access_ = std::move(owner);
        return names;
    }

    std::vector<std::uint32_t> too_large(const std::vector<std::uint32_t>& sets) const {
        std::map<std::uint32_t, std::size_t> accesses;
        for (const std::uint32_t owner : owner_of_access_) {
            if (owner != nobody) ++accesses[sets[owner]];
        }
        std::vector<std::uint32_t> large;
        for (const auto& [set, count] : accesses) {
            if (count > most_accesses_) large.push_back(set);
        }
        return large;
    }

    /// Links bundles in their order, each if the component it makes is not too large.
    void link_bundles(const std::vector<std::uint32_t>& names) {
        Sets sets(problem_.unit_count());
        std::vector<std::size_t> accesses(problem_.unit_count(), 0);
        for (UnitIndex unit = 0; unit < names.size(); ++unit) sets.join(names[unit], unit);
        for (const std::uint32_t owner : owner_of_access_) {
            if (owner != nobody) ++accesses[sets.name(owner)];
        }
        for (std::size_t b = 0; b < bundles_.size(); ++b) {
            std::set<std::uint32_t> together;
            for (const UnitIndex unit : bundles_.of(b)) together.insert(sets.name(unit));
            std::size_t sum = 0;
            for (const std::uint32_t name : together) sum += accesses[name];
            bundle_holds_[b] = sum <= most_accesses_;
            if (!bundle_holds_[b]) continue;
            for (const std::uint32_t name : together) sets.join(*together.begin(), name);
            accesses[*together.begin()] = sum;
        }
    }

    void share_accesses(const std::vector<std::uint32_t>& sets, std::uint32_t set) {
        for (AccessIndex a = 0; a < problem_.access_count(); ++a) {
            const std::uint32_t owner = owner_of_access_[a];
            if (owner != nobody && sets[owner] == set) access_holds_[a] = false;
        }
    }

    void count_needing_units() {
        std::vector<std::uint32_t> last(problem_.access_count(), nobody);
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                    if (last[a] == unit) continue;
                    last[a] = unit;
                    ++needing_units_[a];
                }
            }
        }
    }

    /// The units of each set, in ascending order of sets and of units.
    IndexTable units_by_set(const std::vector<std::uint32_t>& sets) const {
        std::vector<std::vector<UnitIndex>> lists(sets.size());
        for (UnitIndex unit = 0; unit < sets.size(); ++unit) lists[sets[unit]].push_back(unit);
        IndexTable table;
        for (const auto& list : lists) {
            if (!list.empty()) table.add(list);
        }
        return table;
    }

    Components arrange(const std::vector<std::uint32_t>& sets) {
        bundle_of_unit_.assign(problem_.unit_count(), nobody);
        for (std::uint32_t b = 0; b < bundles_.size(); ++b) {
            if (!bundle_holds_[b]) continue;
            for (const UnitIndex unit : bundles_.of(b)) bundle_of_unit_[unit] = b;
        }
        count_needing_units();
        Components out;
        out.mask.assign(problem_.strategy_count(), 0);
        out.share.assign(problem_.access_count(), 0.0);
        for (AccessIndex a = 0; a < problem_.access_count(); ++a) {
            if (access_holds_[a] || needing_units_[a] == 0) continue;
            out.share[a] = 1.0 / needing_units_[a];
            ++out.shared_accesses;
        }
        out.relaxed_bundles = static_cast<std::size_t>(std::ranges::count(bundle_holds_, false));
        const IndexTable by_set = units_by_set(sets);
        std::vector<std::uint32_t> bit(problem_.access_count(), nobody);
        for (std::size_t c = 0; c < by_set.size(); ++c) {
            add_members(out, by_set.of(c));
            add_accesses(out, by_set.of(c), bit);
        }
        return out;
    }

    void add_members(Components& out, std::span<const UnitIndex> units) const {
        for (const UnitIndex unit : units) {
            const std::uint32_t bundle = bundle_of_unit_[unit];
            if (bundle != nobody && bundles_.of(bundle).front() != unit) continue;
            if (bundle == nobody) {
                out.units.push_back(unit);
                out.patterns.add({});
            } else {
                const auto members = bundles_.of(bundle);
                out.units.insert(out.units.end(), members.begin(), members.end());
                out.patterns.add(common_patterns(problem_, members));
            }
            out.first_unit.push_back(static_cast<std::uint32_t>(out.units.size()));
        }
        out.first_member.push_back(static_cast<std::uint32_t>(out.first_unit.size() - 1));
    }

    void add_accesses(Components& out, std::span<const UnitIndex> units,
                      std::vector<std::uint32_t>& bit) const {
        std::vector<AccessIndex> list;
        for (const UnitIndex unit : units) {
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                    if (!access_holds_[a]) continue;
                    if (bit[a] == nobody) {
                        bit[a] = static_cast<std::uint32_t>(list.size());
                        list.push_back(a);
                    }
                    out.mask[s] |= 1U << bit[a];
                }
            }
        }
        out.access.add(list);
    }

    const ChoiceProblem& problem_;
    std::size_t most_accesses_;
    IndexTable bundles_;
    std::vector<bool> bundle_holds_;
    std::vector<bool> access_holds_;
    std::vector<std::uint32_t> needing_units_;
    std::vector<std::uint32_t> owner_of_access_;
    std::vector<std::uint32_t> bundle_of_unit_;
};

}  // namespace

Components components_of(const ChoiceProblem& problem, std::size_t most_accesses) {
    return Builder(problem, most_accesses).build();
}

}  // namespace lagline
