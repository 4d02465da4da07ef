#include "choice/price_search.h"

#include <algorithm>
#include <cmath>
#include <coin/ClpSimplex.hpp>
#include <limits>
#include <utility>

namespace lagline {
namespace {

/// Prices are sought up to so many times the price at which everything would be bought.
constexpr double most_widening = 1e9;

/// The cutting planes met so far, as the columns of a small linear programme:
///   min  sum l c + sum (u e+ - d e-)   with  sum l use - e+ + e- = capacity,  sum l = 1 a block.
/// Its duals are the prices, held in the box [d, u] by the costs of e+ and e-.
class CutModel {
  public:
    CutModel(std::size_t blocks, std::span<const double> capacity)
        : blocks_(blocks), resources_(capacity.size()) {
        lp_.setLogLevel(0);
        lp_.resize(static_cast<int>(resources_ + blocks_), 0);
        for (std::size_t r = 0; r < resources_; ++r) {
            lp_.setRowBounds(static_cast<int>(r), capacity[r], capacity[r]);
        }
        for (std::size_t b = 0; b < blocks_; ++b) {
            lp_.setRowBounds(static_cast<int>(resources_ + b), 1.0, 1.0);
        }
        for (std::size_t r = 0; r < resources_; ++r) {
            const int row = static_cast<int>(r);
            const double over = -1.0;
            const double under = 1.0;
            lp_.addColumn(1, &row, &over, 0.0, COIN_DBL_MAX, 0.0);
            lp_.addColumn(1, &row, &under, 0.0, COIN_DBL_MAX, 0.0);
        }
    }

    void add(const PricedChoice& at) {
        for (std::size_t b = 0; b < blocks_; ++b) {
            rows_.clear();
            values_.clear();
            for (std::size_t r = 0; r < resources_; ++r) {
                const double use = at.block_use[b * resources_ + r];
                if (use == 0.0) continue;
                rows_.push_back(static_cast<int>(r));
                values_.push_back(use);
            }
            rows_.push_back(static_cast<int>(resources_ + b));
            values_.push_back(1.0);
            lp_.addColumn(static_cast<int>(rows_.size()), rows_.data(), values_.data(), 0.0,
                          COIN_DBL_MAX, at.block_cost[b]);
        }
    }

    /// Prices in the box at which the cuts allow the greatest bound; that bound comes back.
    double best(std::span<const double> low, std::span<const double> high,
                std::vector<double>& prices) {
        for (std::size_t r = 0; r < resources_; ++r) {
            lp_.setObjectiveCoefficient(static_cast<int>(2 * r), high[r]);
            lp_.setObjectiveCoefficient(static_cast<int>(2 * r + 1), -low[r]);
        }
        lp_.primal(1);
        const double* duals = lp_.getRowPrice();
        for (std::size_t r = 0; r < resources_; ++r) {
            prices[r] = std::clamp(0.0 - duals[r], low[r], high[r]);
        }
        return lp_.getObjValue();
    }

  private:
    std::size_t blocks_;
    std::size_t resources_;
    ClpSimplex lp_;
    std::vector<int> rows_;
    std::vector<double> values_;
};

class Search {
  public:
    Search(PricedComponents& components, const PriceSearchOptions& options)
        : components_(components),
          problem_(components.problem()),
          options_(options),
          model_(components.blocks(), finite_capacity()) {
        set_scales();
    }

    PriceSearch run() {
        start();
        while (found_.evaluations < options_.most_evaluations && step()) {
            if (options_.go_on && !options_.go_on(found_.bound, found_.evaluations)) break;
        }
        return std::move(found_);
    }

  private:
    /// A resource without limit keeps price 0 and a right-hand side that cannot bind.
    std::vector<double> finite_capacity() {
        std::vector<double> capacity = problem_.resources.capacity;
        for (double& c : capacity) {
            if (!std::isfinite(c)) c = 0.0;
        }
        return capacity;
    }

    /// The least and the greatest cost of a unit; what it can take at most is added to `use`.
    std::pair<double, double> range_of(UnitIndex unit, std::vector<double>& use) const {
        const UseTable& table = problem_.strategies.use;
        std::vector<double> own(use.size(), 0.0);
        double least = std::numeric_limits<double>::infinity();
        double most = -least;
        for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
            least = std::min(least, problem_.strategies.cost[s]);
            most = std::max(most, problem_.strategies.cost[s]);
            for (std::uint32_t k = table.first[s]; k < table.first[s + 1]; ++k) {
                own[table.resource[k]] = std::max(own[table.resource[k]], table.amount[k]);
            }
        }
        for (std::size_t r = 0; r < use.size(); ++r) use[r] += own[r];
        return {least, most};
    }

    /// Widths of the first box, and the cost that no choice can exceed.
    void set_scales() {
        const std::size_t resources = problem_.resource_count();
        std::vector<double> use(resources, 0.0);
        double range = 0.0;
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            const auto [least, most] = range_of(unit, use);
            range += most - least;
            most_cost_ += most;
        }
        for (AccessIndex a = 0; a < problem_.access_count(); ++a) {
            range += problem_.access.cost[a];
            most_cost_ += problem_.access.cost[a];
            problem_.access.use.add_to(use, a);
        }
        high_.resize(resources);
        low_.resize(resources);
        width_.resize(resources);
        for (std::size_t r = 0; r < resources; ++r) {
            width_[r] = use[r] > 0.0 && range > 0.0 ? range / use[r] : 1.0;
            const double ceiling = ceiling_of(r);
            const double over = use[r] - problem_.resources.capacity[r];
            if (!std::isfinite(ceiling)) continue;
            width_[r] = std::max(width_[r], ceiling);
            if (over > 0.0) most_cost_ += ceiling * over;
        }
        widest_ = width_;
        for (double& width : widest_) width *= most_widening;
    }

    double ceiling_of(std::size_t r) const {
        if (!std::isfinite(problem_.resources.capacity[r])) return 0.0;
        return problem_.resources.overrun_price[r];
    }

    void start() {
        const std::size_t resources = problem_.resource_count();
        found_.prices.assign(resources, 0.0);
        if (options_.start_prices.size() == resources) {
            for (std::size_t r = 0; r < resources; ++r) {
                found_.prices[r] = std::clamp(options_.start_prices[r], 0.0, ceiling_of(r));
                if (found_.prices[r] > 0.0) width_[r] = 0.25 * found_.prices[r];
            }
        }
        components_.solve(found_.prices, found_.at_prices);
        found_.evaluations = 1;
        found_.bound = found_.at_prices.proven();
        model_.add(found_.at_prices);
        trial_ = found_.prices;
    }

    /// True when the box, not the cuts or a limit of the prices themselves, holds the trial back.
    bool box_binds() const {
        for (std::size_t r = 0; r < trial_.size(); ++r) {
            const bool at_high = trial_[r] >= high_[r] && high_[r] < ceiling_of(r);
            const bool at_low = trial_[r] <= low_[r] && low_[r] > 0.0;
            if (at_high || at_low) return true;
        }
        return false;
    }

    void scale_box(double factor) {
        for (std::size_t r = 0; r < width_.size(); ++r) {
            width_[r] = std::min(widest_[r], factor * width_[r]);
        }
    }

    /// One trial; false when the search is over.
    bool step() {
        for (std::size_t r = 0; r < trial_.size(); ++r) {
            low_[r] = std::max(0.0, found_.prices[r] - width_[r]);
            high_[r] = std::min(ceiling_of(r), found_.prices[r] + width_[r]);
        }
        const double hope = model_.best(low_, high_, trial_) - found_.bound;
        const bool held = box_binds();
        if (hope <= options_.tolerance * std::abs(found_.bound)) {
            if (!held || ++idle_ > 3) return false;
            scale_box(4.0);
            return true;
        }
        idle_ = 0;
        components_.solve(trial_, at_trial_);
        ++found_.evaluations;
        model_.add(at_trial_);
        const double rise = at_trial_.proven() - found_.bound;
        if (rise > 0.0) {
            found_.bound = at_trial_.proven();
            found_.prices = trial_;
            std::swap(found_.at_prices, at_trial_);
        }
        if (held && rise > 0.5 * hope) scale_box(3.0);
        if (rise < 0.0) scale_box(0.5);
        found_.infeasible = found_.bound > most_cost_ + std::abs(1e-9 * most_cost_);
        return !found_.infeasible;
    }

    PricedComponents& components_;
    const ChoiceProblem& problem_;
    const PriceSearchOptions& options_;
    CutModel model_;
    PriceSearch found_;
    PricedChoice at_trial_;
    std::vector<double> trial_;
    std::vector<double> low_;
    std::vector<double> high_;
    std::vector<double> width_;
    std::vector<double> widest_;
    double most_cost_ = 0.0;
    int idle_ = 0;
};

}  // namespace

PriceSearch search_prices(PricedComponents& components, const PriceSearchOptions& options) {
    return Search(components, options).run();
}

}  // namespace lagline
