#include "choice/decomposition.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "choice/incumbent.h"
#include "choice/integer_program.h"
#include "choice/price_search.h"
#include "choice/priced_components.h"
#include "choice/repair.h"

namespace lagline {
namespace {

/// Free strategies of the first integer programme, and by how much the next may be larger.
constexpr std::size_t first_core = 150;
constexpr std::size_t core_growth = 2;
/// Nodes for a programme that only seeks a better choice.
constexpr int core_nodes = 200;
/// Further repairs: as many as this over the number of strategies, at least 8.
constexpr std::size_t strategies_a_restart = 400'000;
constexpr std::size_t most_restarts = 40;
constexpr double price_spread = 0.06;

class Decomposition {
  public:
    Decomposition(const ChoiceProblem& problem, const SolveOptions& options)
        : problem_(problem),
          options_(options),
          incumbent_(problem, options),
          components_(problem, options.threads, options.most_accesses) {}

    DecompositionRun run() {
        search();
        if (!run_.infeasible && !incumbent_.gap_reached()) repair();
        if (!run_.infeasible && incumbent_.has_choice()) close_gap();
        Solution& out = run_.solution;
        incumbent_.write(out);
        out.shadow_price = search_.prices;
        out.overrun.assign(problem_.resource_count(), 0.0);
        out.counters.components = components_.components().size();
        out.counters.relaxed_bundles = components_.components().relaxed_bundles;
        out.counters.shared_accesses = components_.components().shared_accesses;
        out.counters.price_evaluations = search_.evaluations;
        return std::move(run_);
    }

  private:
    void search() {
        PriceSearchOptions options;
        options.tolerance = std::clamp(0.01 * options_.gap, 1e-9, 1e-5);
        options.start_prices = options_.start_prices;
        options.go_on = [this](double bound, std::size_t) {
            incumbent_.raise_bound(bound);
            return !incumbent_.must_stop();
        };
        search_ = search_prices(components_, options);
        run_.infeasible = search_.infeasible;
        incumbent_.raise_bound(search_.bound);
    }

    /// Repairs the choice at the prices found, then choices at prices moved a little from them,
    /// which are cheap and differ where units are nearly indifferent.
    void repair() {
        incumbent_.offer(repaired(components_, search_.prices, search_.at_prices.choice));
        const std::size_t restarts = std::clamp<std::size_t>(
            strategies_a_restart / std::max<std::size_t>(1, problem_.strategy_count()), 8,
            most_restarts);
        std::vector<double> moved(search_.prices.size());
        PricedChoice at_moved;
        double place = 0.5;
        for (std::size_t i = 0; i < restarts; ++i) {
            if (incumbent_.gap_reached() || incumbent_.must_stop()) return;
            for (std::size_t r = 0; r < moved.size(); ++r) {
                // Multiples of the golden ratio fill [0, 1) evenly and are the same in every run.
                place += std::numbers::phi;
                place -= std::floor(place);
                moved[r] = search_.prices[r] * (1.0 + price_spread * (place - 0.5));
            }
            components_.solve(moved, at_moved);
            incumbent_.offer(repaired(components_, search_.prices, at_moved.choice));
        }
    }

    void close_gap() {
        if (incumbent_.gap_reached()) return;
        components_.reduced_costs(search_.prices, reduced_);
        for (std::size_t core = first_core; !incumbent_.gap_reached(); core *= core_growth) {
            if (incumbent_.must_stop() || close_gap_with(core)) return;
        }
    }

    /// Solves over the strategies that could be in a choice below a limit; all others are proven to
    /// cost at least that limit.  True when there is nothing left to try.
    bool close_gap_with(std::size_t core) {
        const double before = incumbent_.objective();
        const double target = incumbent_.target();
        double limit = target;
        std::size_t free = keep_below(limit);
        const bool whole = free <= core;
        if (!whole) {
            limit = std::min(target, search_.bound + core_threshold(core));
            free = keep_below(limit);
            for (const StrategyIndex s : incumbent_.choice()) keep_[s] = 1;
        }
        IntegerOptions options;
        options.has_cutoff = true;
        options.cutoff = whole ? target : before;
        // Of the smaller of the two, so that it is no more than the gap asked for of what comes
        // out.
        options.absolute_gap =
            0.999 * options_.gap * std::min(std::abs(before), std::abs(search_.bound));
        options.time_limit_s = incumbent_.seconds_left();
        if (!whole) options.most_nodes = core_nodes;
        const IntegerResult result = solve_integer(integer_program(problem_, keep_), options);
        ++run_.solution.counters.integer_calls;
        run_.solution.counters.integer_nodes += result.nodes;
        run_.solution.counters.free_strategies = free;
        if (!result.choice.empty()) incumbent_.offer(result.choice);
        if (result.has_bound) incumbent_.raise_bound(std::min(limit, result.bound));
        return whole && !(incumbent_.objective() < before);
    }

    /// Keeps the strategies that may be in a choice of less than `limit`; how many, but for units
    /// with only one of them.
    std::size_t keep_below(double limit) {
        const double margin = no_gap * std::abs(search_.bound);
        keep_.assign(problem_.strategy_count(), 0);
        std::size_t free = 0;
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            std::size_t own = 0;
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                if (!(search_.bound + reduced_[s] < limit + margin)) continue;
                keep_[s] = 1;
                ++own;
            }
            if (own > 1) free += own;
        }
        return free;
    }

    /// The reduced cost below which about `core` strategies have it, the best of each unit aside.
    double core_threshold(std::size_t core) const {
        std::vector<double> sorted = reduced_;
        const std::size_t place = std::min(sorted.size() - 1, problem_.unit_count() + core / 2);
        std::ranges::nth_element(sorted, sorted.begin() + static_cast<std::ptrdiff_t>(place));
        return sorted[place];
    }

    const ChoiceProblem& problem_;
    const SolveOptions& options_;
    Incumbent incumbent_;
    PricedComponents components_;
    PriceSearch search_;
    std::vector<double> reduced_;
    std::vector<std::uint8_t> keep_;
    DecompositionRun run_;
};

}  // namespace

DecompositionRun run_decomposition(const ChoiceProblem& problem, const SolveOptions& options) {
    return Decomposition(problem, options).run();
}

}  // namespace lagline
