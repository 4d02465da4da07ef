#include <coin/Cbc_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <span>
#include <string>

#include "blocks/number_text.h"
#include "choice/choice_check.h"
#include "choice/integer_program.h"

namespace lagline {
namespace {

/// The solver sees costs of about this size, so that its fixed tolerances are a small part of them.
constexpr double cost_size = 1048576.0;

/// Added to a smallest step of the solver's objective: it prunes nodes that are better by less.
constexpr double smallest_step = 1e-5;

struct Deleter {
    void operator()(Cbc_Model* model) const { Cbc_deleteModel(model); }
};

class Call {
  public:
    Call(const IntegerProgram& program, const IntegerOptions& options)
        : program_(program), options_(options), model_(Cbc_newModel()), scale_(cost_scale()) {}

    IntegerResult run() {
        load();
        Cbc_setLogLevel(model_.get(), 0);
        set("logLevel", 0.0);
        set("slogLevel", 0.0);
        set("ratioGap", options_.relative_gap);
        set("allowableGap", options_.absolute_gap * scale_);
        Cbc_setParameter(model_.get(), "timeMode", "elapsed");
        set("seconds", std::max(0.01, options_.time_limit_s));
        if (options_.has_cutoff) {
            // CBC 2.10.8: its preprocessing can cut off choices just below a cutoff, and the search
            // then proves a bound above them.
            Cbc_setParameter(model_.get(), "preprocess", "off");
            set("cutoff", options_.cutoff * scale_);
        }
        if (options_.most_nodes >= 0) set("maxNodes", options_.most_nodes);
        Cbc_solve(model_.get());
        return result();
    }

  private:
    double cost_scale() const {
        double size = std::abs(program_.constant);
        for (const double cost : program_.cost) size = std::max(size, std::abs(cost));
        if (options_.has_cutoff) size = std::max(size, std::abs(options_.cutoff));
        return size > 0.0 ? std::exp2(std::round(std::log2(cost_size / size))) : 1.0;
    }

    void load() {
        std::vector<double> cost = program_.cost;
        for (double& c : cost) c *= scale_;
        Cbc_loadProblem(
            model_.get(), static_cast<int>(program_.columns()), static_cast<int>(program_.rows()),
            program_.first.data(), program_.row.data(), program_.value.data(), program_.low.data(),
            program_.high.data(), cost.data(), program_.row_low.data(), program_.row_high.data());
        for (std::size_t j = 0; j < program_.columns(); ++j) {
            if (program_.is_integer[j] != 0) Cbc_setInteger(model_.get(), static_cast<int>(j));
        }
    }

    void set(const char* name, double value) {
        const bool whole = std::floor(value) == value && std::abs(value) < 1e9;
        const std::string text =
            whole ? std::to_string(static_cast<long>(value)) : exact_number(value);
        Cbc_setParameter(model_.get(), name, text.c_str());
    }

    IntegerResult result() {
        IntegerResult out;
        Cbc_Model* model = model_.get();
        out.finished = Cbc_status(model) == 0 && Cbc_isSecondsLimitReached(model) == 0 &&
                       Cbc_isNodeLimitReached(model) == 0;
        out.nodes = static_cast<std::size_t>(std::max(0, Cbc_getNodeCount(model)));
        const double* best = Cbc_bestSolution(model);
        if (best != nullptr && Cbc_isProvenInfeasible(model) == 0) read_choice(best, out);
        if (out.finished) {
            finished_bound(out);
        } else {
            stopped_bound(out);
        }
        return out;
    }

    void read_choice(const double* best, IntegerResult& out) const {
        out.choice = program_.settled;
        const std::span values(best, program_.columns());
        std::vector<StrategyIndex> chosen;
        for (std::size_t j = 0; j < program_.strategy_of_column.size(); ++j) {
            if (values[j] > 0.5) chosen.push_back(program_.strategy_of_column[j]);
        }
        // Columns stand in the order of units, and so do the units that are not settled.
        std::size_t next = 0;
        for (StrategyIndex& s : out.choice) {
            if (s == no_strategy && next < chosen.size()) s = chosen[next++];
        }
    }

    /// The search ended.  What it reports as its bound may be the objective itself although nodes
    /// within the allowed gap were left out; so no more is claimed than that gap.
    void finished_bound(IntegerResult& out) const {
        const double step = smallest_step / scale_;
        if (out.choice.empty()) {
            out.has_bound = options_.has_cutoff;
            out.bound = options_.cutoff - step;
            return;
        }
        const double objective = Cbc_getObjValue(model_.get()) / scale_;
        const double allowed =
            std::max(options_.absolute_gap, options_.relative_gap * std::abs(objective));
        double bound = objective - allowed;
        const double reported = Cbc_getBestPossibleObjValue(model_.get()) / scale_;
        if (std::isfinite(reported) && reported < objective - step) {
            bound = std::max(bound, reported);
        }
        out.has_bound = true;
        out.bound = bound - step;
        if (options_.has_cutoff) out.bound = std::min(out.bound, options_.cutoff - step);
    }

    void stopped_bound(IntegerResult& out) const {
        const double reported = Cbc_getBestPossibleObjValue(model_.get());
        if (!std::isfinite(reported) || std::abs(reported) > 1e40 || out.nodes == 0) return;
        out.has_bound = true;
        out.bound = (reported - smallest_step) / scale_;
        if (options_.has_cutoff) out.bound = std::min(out.bound, options_.cutoff);
    }

    const IntegerProgram& program_;
    const IntegerOptions& options_;
    std::unique_ptr<Cbc_Model, Deleter> model_;
    double scale_;
};

/// Cost of the choice that is settled, overruns included; infinity when it does not fit.
double settled_cost(const IntegerProgram& program) {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    if (std::ranges::find(program.settled, no_strategy) != program.settled.end()) return infinity;
    std::vector<double> missing(program.rows());
    for (std::size_t r = 0; r < program.rows(); ++r) {
        missing[r] = std::max(0.0, -program.row_high[r] - capacity_tolerance);
    }
    double cost = program.constant;
    for (std::size_t j = 0; j < program.columns(); ++j) {
        if (program.first[j] == program.first[j + 1]) continue;  // the constant
        double& overrun = missing[static_cast<std::size_t>(
            program.row[static_cast<std::size_t>(program.first[j])])];
        cost += program.cost[j] * overrun;
        overrun = 0.0;
    }
    if (std::ranges::any_of(missing, [](double m) { return m != 0.0; })) return infinity;
    return cost;
}

/// Nothing is free: the choice that is settled is the only one, if it is one at all.
IntegerResult only_choice(const IntegerProgram& program, const IntegerOptions& options) {
    IntegerResult out;
    const double cost = settled_cost(program);
    const double cutoff = options.has_cutoff ? options.cutoff : cost;
    out.finished = true;
    out.bound = std::min(cost, cutoff);
    out.has_bound = std::isfinite(out.bound);
    if (std::isfinite(cost)) out.choice = program.settled;
    return out;
}

}  // namespace

IntegerResult solve_integer(const IntegerProgram& program, const IntegerOptions& options) {
    if (program.strategy_of_column.empty()) return only_choice(program, options);
    return Call(program, options).run();
}

}  // namespace lagline
