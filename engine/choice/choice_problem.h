#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "diagnostics/diagnostic.h"

namespace lagline {

/// Positions in the columns of a ChoiceProblem, counted from 0.
using UnitIndex = std::uint32_t;
using StrategyIndex = std::uint32_t;
using ResourceIndex = std::uint32_t;
using AccessIndex = std::uint32_t;

/// Stands for "belongs to no bundle".
inline constexpr std::uint32_t no_bundle = std::numeric_limits<std::uint32_t>::max();

/// What something takes of one resource.
struct Use {
    ResourceIndex resource = 0;
    double amount = 0.0;  ///< in the unit of the resource, >= 0
};

/// What each of many things takes of each resource: thing i has the entries [first[i], first[i+1]).
struct UseTable {
    std::vector<std::uint32_t> first{0};
    std::vector<ResourceIndex> resource;
    std::vector<double> amount;

    void add(std::span<const Use> uses);
    [[nodiscard]] std::size_t size() const { return first.size() - 1; }
    /// Sum over the entries of thing i of amount x price [price by resource].
    [[nodiscard]] double priced(std::size_t i, std::span<const double> price) const {
        double sum = 0.0;
        for (std::uint32_t k = first[i]; k < first[i + 1]; ++k)
            sum += amount[k] * price[resource[k]];
        return sum;
    }
    /// total += factor x what thing i takes [total by resource].
    void add_to(std::span<double> total, std::size_t i, double factor = 1.0) const {
        for (std::uint32_t k = first[i]; k < first[i + 1]; ++k) {
            total[resource[k]] += factor * amount[k];
        }
    }
};

/// A list of positions for each of many things: thing i has [first[i], first[i+1]).
struct IndexTable {
    std::vector<std::uint32_t> first{0};
    std::vector<std::uint32_t> index;

    void add(std::span<const std::uint32_t> list);
    [[nodiscard]] std::size_t size() const { return first.size() - 1; }
    [[nodiscard]] std::span<const std::uint32_t> of(std::size_t i) const {
        return std::span(index).subspan(first[i], first[i + 1] - first[i]);
    }
};

/// One strategy of a unit, as it is added.
struct StrategyDraft {
    double cost = 0.0;          ///< money, expected loss included; may be negative
    std::uint32_t pattern = 0;  ///< key of the windows it acts in; read only inside a bundle
    std::vector<Use> uses;
    std::vector<AccessIndex> needs;
};

/// A problem of choice: every unit takes exactly one of its strategies, so that no resource is used
/// beyond its capacity and the sum of costs is least.  An access (a scaffold in one window, say) is
/// paid once when any chosen strategy needs it.  Units of one bundle choose strategies of the same
/// pattern.  Work that is compulsory is a unit without a strategy that leaves it out.
/// @source docs/choice.md, eq. 1
struct ChoiceProblem {
    struct Resources {
        std::vector<double> capacity;  ///< >= 0; infinity for no limit
        /// Money per unit used beyond the capacity; infinity where it must not be exceeded.
        std::vector<double> overrun_price;
        /// Weight of a unit of overrun where compulsory work does not fit, > 0.
        std::vector<double> overrun_weight;
        /// Money counted for each unit of weighted overrun where compulsory work does not fit, >=
        /// 0.
        double overrun_charge = 1000.0;
    } resources;
    struct Access {
        std::vector<double> cost;          ///< money, >= 0
        std::vector<std::uint32_t> group;  ///< who shares it, for reports
        UseTable use;
    } access;
    struct Units {
        std::vector<StrategyIndex> first_strategy{0};
        std::vector<std::uint32_t> bundle;  ///< or no_bundle
    } units;
    struct Strategies {
        std::vector<double> cost;
        std::vector<std::uint32_t> pattern;
        UseTable use;
        IndexTable needs;
    } strategies;

    ResourceIndex add_resource(double capacity, double overrun_weight = 1.0);
    AccessIndex add_access(std::uint32_t group, double cost, std::span<const Use> uses = {});
    /// Starts a unit; the strategies added next are its own.
    UnitIndex add_unit(std::uint32_t bundle = no_bundle);
    /// Adds a strategy to the unit started last.
    StrategyIndex add_strategy(const StrategyDraft& draft);

    [[nodiscard]] std::size_t unit_count() const { return units.bundle.size(); }
    [[nodiscard]] std::size_t strategy_count() const { return strategies.cost.size(); }
    [[nodiscard]] std::size_t resource_count() const { return resources.capacity.size(); }
    [[nodiscard]] std::size_t access_count() const { return access.cost.size(); }
    [[nodiscard]] StrategyIndex begin(UnitIndex unit) const { return units.first_strategy[unit]; }
    [[nodiscard]] StrategyIndex end(UnitIndex unit) const { return units.first_strategy[unit + 1]; }
};

/// Everything that keeps `problem` from being solved; empty when nothing does.  Subjects are
/// "strategy 12", "resource 3" and so on, counted from 0.
[[nodiscard]] Report validate(const ChoiceProblem& problem);

/// `problem` with only the strategies for which `keep` is not 0.  `kept` gives the old position of
/// every strategy that is left.
struct ReducedProblem {
    ChoiceProblem problem;
    std::vector<StrategyIndex> kept;
};
[[nodiscard]] ReducedProblem with_only(const ChoiceProblem& problem,
                                       std::span<const std::uint8_t> keep);

/// The patterns that every unit of `members` offers, in ascending order.
[[nodiscard]] std::vector<std::uint32_t> common_patterns(const ChoiceProblem& problem,
                                                         std::span<const UnitIndex> members);

/// The units of each bundle in ascending order, bundles in the order of their first unit.
[[nodiscard]] IndexTable bundles_of(const ChoiceProblem& problem);

}  // namespace lagline
