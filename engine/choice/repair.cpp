#include "choice/repair.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "choice/choice_state.h"

namespace lagline {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Moves that belong together, and how they rank among others: least first.
struct Candidate {
    double rank = 0.0;
    std::uint32_t first = 0;  ///< into the list of moves
    std::uint32_t last = 0;
};

class Candidates {
  public:
    void clear() {
        moves_.clear();
        list_.clear();
    }
    void begin() { first_ = static_cast<std::uint32_t>(moves_.size()); }
    void put(const Move& move) { moves_.push_back(move); }
    [[nodiscard]] std::span<const Move> current() const {
        return std::span(moves_).subspan(first_);
    }
    void drop() { moves_.resize(first_); }
    void keep(double rank) {
        list_.push_back({rank, first_, static_cast<std::uint32_t>(moves_.size())});
    }
    /// In order of rank; those put first win a tie.
    const std::vector<Candidate>& sorted() {
        std::ranges::stable_sort(list_, {}, &Candidate::rank);
        return list_;
    }
    [[nodiscard]] std::span<const Move> moves(const Candidate& of) const {
        return std::span(moves_).subspan(of.first, of.last - of.first);
    }

  private:
    std::vector<Move> moves_;
    std::vector<Candidate> list_;
    std::uint32_t first_ = 0;
};

class Repair {
  public:
    Repair(PricedComponents& components, std::span<const double> prices,
           std::vector<StrategyIndex> start)
        : components_(components),
          problem_(components.problem()),
          prices_(prices),
          bundles_(bundles_of(problem_)),
          bundle_of_unit_(problem_.unit_count(), no_bundle),
          state_(problem_, std::move(start)) {
        for (std::uint32_t b = 0; b < bundles_.size(); ++b) {
            for (const UnitIndex unit : bundles_.of(b)) bundle_of_unit_[unit] = b;
        }
    }

    std::vector<StrategyIndex> run() {
        if (components_.components().relaxed_bundles > 0) mend_bundles();
        take_off_components();
        for (int pass = 0; pass < 30 && state_.violation() > 0.0; ++pass) {
            if (!take_off_units()) break;
        }
        if (state_.violation() > 0.0) return state_.choice();
        add_components();
        for (int pass = 0; pass < 10; ++pass) {
            if (!add_units()) break;
        }
        return state_.choice();
    }

  private:
    double strategy_price(StrategyIndex s) const {
        double sum = problem_.strategies.cost[s] + problem_.strategies.use.priced(s, prices_);
        for (const AccessIndex a : problem_.strategies.needs.of(s)) {
            if (state_.is_open(a)) continue;
            sum += problem_.access.cost[a] + problem_.access.use.priced(a, prices_);
        }
        return sum;
    }

    /// The cheapest way for a bundle to follow a pattern.
    double put_pattern(std::size_t bundle, std::uint32_t pattern, std::vector<Move>& into) const {
        double sum = 0.0;
        into.clear();
        for (const UnitIndex unit : bundles_.of(bundle)) {
            Move best{unit, no_choice};
            double least = infinity;
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                if (problem_.strategies.pattern[s] != pattern) continue;
                const double price = strategy_price(s);
                if (!(price < least)) continue;
                least = price;
                best.strategy = s;
            }
            if (best.strategy == no_choice) return infinity;
            sum += least;
            into.push_back(best);
        }
        return sum;
    }

    void mend_bundles() {
        std::vector<Move> moves;
        std::vector<Move> best;
        for (std::size_t b = 0; b < bundles_.size(); ++b) {
            double least = infinity;
            for (const std::uint32_t pattern : common_patterns(problem_, bundles_.of(b))) {
                const double price = put_pattern(b, pattern, moves);
                if (!(price < least)) continue;
                least = price;
                std::swap(best, moves);
            }
            for (const Move& move : best) state_.apply(move);
        }
    }

    /// True when no unit of the component is in a bundle whose link the component leaves out.
    bool moves_alone(std::size_t component) const {
        const Components& all = components_.components();
        if (all.relaxed_bundles == 0) return true;
        for (std::uint32_t m = all.first_member[component]; m < all.first_member[component + 1];
             ++m) {
            const UnitIndex unit = all.units[all.first_unit[m]];
            if (bundle_of_unit_[unit] != no_bundle && all.patterns.of(m).empty()) return false;
        }
        return true;
    }

    /// Candidates: each component put to its choice at other prices.  Rank comes from `rank`,
    /// called with the moves applied; infinity refuses.
    template <class Rank>
    void collect_components(std::span<const double> prices, Rank rank) {
        components_.solve(prices, other_);
        const Components& all = components_.components();
        candidates_.clear();
        for (std::size_t c = 0; c < all.size(); ++c) {
            candidates_.begin();
            const std::uint32_t first = all.first_unit[all.first_member[c]];
            const std::uint32_t last = all.first_unit[all.first_member[c + 1]];
            for (std::uint32_t u = first; u < last; ++u) {
                const UnitIndex unit = all.units[u];
                if (other_.choice[unit] != state_.choice()[unit]) {
                    candidates_.put({unit, other_.choice[unit]});
                }
            }
            if (!candidates_.current().empty() && moves_alone(c)) {
                weigh(rank);
            } else {
                candidates_.drop();
            }
        }
    }

    /// Candidates: every unit on every strategy, every bundle on every pattern.
    template <class Rank>
    void collect_units(Rank rank) {
        candidates_.clear();
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            if (bundle_of_unit_[unit] != no_bundle) continue;
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                if (s == state_.choice()[unit]) continue;
                candidates_.begin();
                candidates_.put({unit, s});
                weigh(rank);
            }
        }
        std::vector<Move> moves;
        for (std::size_t b = 0; b < bundles_.size(); ++b) {
            for (const std::uint32_t pattern : common_patterns(problem_, bundles_.of(b))) {
                if (put_pattern(b, pattern, moves) == infinity) continue;
                candidates_.begin();
                for (const Move& move : moves) candidates_.put(move);
                weigh(rank);
            }
        }
    }

    template <class Rank>
    void weigh(Rank rank) {
        state_.apply(candidates_.current(), undo_);
        const double value = rank();
        revert();
        if (value < infinity) {
            candidates_.keep(value);
        } else {
            candidates_.drop();
        }
    }

    void revert() {
        std::for_each(undo_.rbegin(), undo_.rend(),
                      [this](const auto& move) { state_.apply(move); });
    }

    /// Applies candidates in order of rank, each only if `accept` still holds for it.
    template <class Accept>
    bool apply_in_order(Accept accept) {
        bool any = false;
        for (const Candidate& candidate : candidates_.sorted()) {
            state_.apply(candidates_.moves(candidate), undo_);
            if (accept()) {
                any = true;
            } else {
                revert();
            }
            if (stop_) break;
        }
        stop_ = false;
        return any;
    }

    /// Rank of a move that takes overrun off: rise of the priced cost for it.
    auto take_off_rank() {
        return [this, before = state_.violation(), priced = state_.priced(prices_)] {
            const double taken = before - state_.violation();
            if (!(taken > 0.0)) return infinity;
            return (state_.priced(prices_) - priced) / taken;
        };
    }

    bool take_off() {
        double left = state_.violation();
        return apply_in_order([&] {
            const double now = state_.violation();
            if (!(now < left)) return false;
            left = now;
            stop_ = now == 0.0;
            return true;
        });
    }

    void take_off_components() {
        std::vector<double> raised(prices_.begin(), prices_.end());
        for (double part = 0.01; part < 1e4 && state_.violation() > 0.0; part *= 2.0) {
            for (std::size_t r = 0; r < raised.size(); ++r) {
                if (state_.violation_of(r) <= 0.0) continue;
                raised[r] = prices_[r] + part * std::max(prices_[r], typical_price(r));
            }
            collect_components(raised, take_off_rank());
            take_off();
        }
    }

    /// A price to begin with where the price is 0: a small part of the objective for the capacity.
    double typical_price(std::size_t r) const {
        const double capacity = std::max(1.0, problem_.resources.capacity[r]);
        return 1e-3 * std::abs(state_.objective()) / capacity;
    }

    bool take_off_units() {
        collect_units(take_off_rank());
        return take_off();
    }

    bool add(double least_gain) {
        double cost = state_.objective();
        return apply_in_order([&] {
            if (state_.violation() > 0.0 || !(state_.objective() < cost - least_gain)) return false;
            cost = state_.objective();
            return true;
        });
    }

    /// What counts as a saving at all, beyond rounding.
    double least_gain() const { return 1e-12 * std::abs(state_.objective()); }

    /// Rank of a move that saves money: how far it leaves the prices behind.
    auto saving_rank() {
        return [this, cost = state_.objective(), gain = least_gain(),
                priced = state_.priced(prices_)] {
            if (state_.violation() > 0.0 || !(state_.objective() < cost - gain)) return infinity;
            return state_.priced(prices_) - priced;
        };
    }

    void add_components() {
        constexpr std::array<double, 7> parts = {0.01, 0.03, 0.1, 0.2, 0.4, 0.7, 1.0};
        std::vector<double> lowered(prices_.size());
        for (const double part : parts) {
            for (std::size_t r = 0; r < lowered.size(); ++r) lowered[r] = (1.0 - part) * prices_[r];
            collect_components(lowered, saving_rank());
            add(least_gain());
        }
    }

    bool add_units() {
        collect_units(saving_rank());
        return add(least_gain());
    }

    static constexpr StrategyIndex no_choice = static_cast<StrategyIndex>(-1);

    PricedComponents& components_;
    const ChoiceProblem& problem_;
    std::span<const double> prices_;
    IndexTable bundles_;
    std::vector<std::uint32_t> bundle_of_unit_;
    ChoiceState state_;
    PricedChoice other_;
    Candidates candidates_;
    std::vector<Move> undo_;
    bool stop_ = false;
};

}  // namespace

std::vector<StrategyIndex> repaired(PricedComponents& components, std::span<const double> prices,
                                    std::vector<StrategyIndex> start) {
    return Repair(components, prices, std::move(start)).run();
}

}  // namespace lagline
