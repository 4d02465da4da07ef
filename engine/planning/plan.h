#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "choice/choice_solver.h"
#include "planning/found_choice.h"
#include "planning/plan_problem.h"
#include "planning/plan_totals.h"

namespace lagline {

struct PlanOptions {
    double gap = 1e-3;
    double time_limit_s = 60.0;
    std::vector<BudgetChange> budgets;
    /// Taken instead of a search; empty: one is made.
    std::optional<FoundChoice> found;
    std::size_t sweep_points = 20;  ///< of the curve of money against loss; 0 for none
    /// For each of its points, unless `gap` is wider: a curve shows no more, and twenty proofs as
    /// sharp as that of the plan take twenty times as long.
    double sweep_gap = 1e-2;
    std::function<bool(const SolveProgress&)> progress;
};

/// One segment in the plan.
struct PlannedSegment {
    std::uint32_t segment_row = 0;
    std::size_t rank = 0;        ///< at the rank date, from 1
    std::uint32_t strategy = 0;  ///< position in Strategies::all
    double loss_if_left = 0.0;   ///< present value
    /// Rise of the plan's cost, at the margin, if the work waits for the next window, or is left
    /// where there is none; nothing for a segment that is left.  Infinite: it cannot wait.
    std::optional<double> cost_of_waiting;
};

/// A segment that is left though work on it nearly pays.
struct NearMiss {
    std::size_t row = 0;         ///< of the futures
    std::uint32_t strategy = 0;  ///< the one that would be taken first
    double short_by = 0.0;       ///< by so much its cost would have to fall
    double saves = 0.0;          ///< loss that it would take off, present value
    double cost = 0.0;           ///< present value, its share of a scaffold apart
    double scarce = 0.0;         ///< what the budgets and hours it takes are worth elsewhere
    std::optional<PlanResource> scarcest;  ///< the limit that makes most of `scarce`
};

/// The plan at one scale of all budgets.
struct BudgetPoint {
    double factor = 0.0;
    double budget = 0.0;          ///< sum over the windows
    double spent = 0.0;           ///< expected, prices of today
    double loss = 0.0;            ///< present value of leaks to the horizon
    double value = 0.0;           ///< present value of work and leaks
    double overrun_charge = 0.0;  ///< counted for overruns where compulsory work does not fit
    double gap = 0.0;
    bool fits = true;  ///< compulsory work fits
};

/// What the money would do in another order.
enum class SpendingOrder : std::uint8_t { rank, rank_best, age, interval };
inline constexpr std::array spending_orders{SpendingOrder::rank, SpendingOrder::rank_best,
                                            SpendingOrder::age, SpendingOrder::interval};
[[nodiscard]] std::string_view describe(SpendingOrder order);

struct SpendingResult {
    SpendingOrder order{};
    PlanTotals totals;
    std::vector<std::uint32_t> choice;  ///< position in Strategies::all, by row of the futures
};

/// A plan: what to do with each segment, and the proof of how near it is to the best.
struct Plan {
    Futures futures;
    std::vector<PlanWindow> windows;
    Strategies strategies;
    AccessGroups groups;
    std::vector<Deadline> deadlines;
    std::vector<PlanResource> resources;
    Solution solution;
    std::vector<PlannedSegment> segments;  ///< by row of the futures
    PlanTotals totals;                     ///< of the plan, worked out without the solver
    PlanTotals left;                       ///< if nothing is done
    std::vector<NearMiss> near_misses;     ///< by `short_by`
    std::vector<BudgetPoint> sweep;
    std::vector<SpendingResult> others;
    std::vector<std::string> packs_apart;
    std::vector<EngineerNeed> engineer_now;     ///< of the whole plant
    std::vector<std::string_view> rule_prices;  ///< prices that plant.yaml does not state

    [[nodiscard]] std::vector<std::uint32_t> choice() const;
};

/// Plans the work on every ranked segment over the windows to come.
/// @param ranking  with the outlook of all its rows
/// @pre there is at least one window; see plan_windows()
[[nodiscard]] Plan make_plan(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                             const PlanOptions& options, const WorkPlan& work = {});

}  // namespace lagline
