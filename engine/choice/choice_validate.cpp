#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include "choice/choice_problem.h"

namespace lagline {
namespace {

class Checks {
  public:
    explicit Checks(const ChoiceProblem& problem) : problem_(problem) {}

    Report run() {
        resources();
        accesses();
        strategies();
        units();
        if (report_.ok()) bundles();
        return std::move(report_);
    }

  private:
    void add(Problem problem, std::string subject, std::string found, std::string_view expected,
             std::string_view mend) {
        report_.add({.problem = problem,
                     .where = {},
                     .subject = std::move(subject),
                     .found = std::move(found),
                     .expected = std::string(expected),
                     .mend = std::string(mend),
                     .excerpt = {}});
    }
    static std::string named(std::string_view what, std::size_t i) {
        return std::string(what) + " " + std::to_string(i);
    }

    void resources() {
        const auto& all = problem_.resources;
        if (!(all.overrun_charge >= 0.0) || !std::isfinite(all.overrun_charge)) {
            add(Problem::out_of_range, "the charge of overruns", std::to_string(all.overrun_charge),
                "a finite number of 0 or more", "correct the charge");
        }
        for (std::size_t r = 0; r < all.capacity.size(); ++r) {
            if (!(all.capacity[r] >= 0.0)) {
                add(Problem::out_of_range, named("resource", r),
                    "capacity " + std::to_string(all.capacity[r]), "a capacity of 0 or more",
                    "give the capacity of the window, or infinity for no limit");
            }
            const bool weight_ok =
                all.overrun_weight[r] > 0.0 && std::isfinite(all.overrun_weight[r]);
            if (!weight_ok || !(all.overrun_price[r] >= 0.0)) {
                add(Problem::out_of_range, named("resource", r),
                    "overrun weight " + std::to_string(all.overrun_weight[r]) + ", price " +
                        std::to_string(all.overrun_price[r]),
                    "a finite weight above 0 and a price of 0 or more", "correct the overrun");
            }
        }
    }

    void uses(const UseTable& table, std::size_t i, std::string_view what) {
        for (std::uint32_t k = table.first[i]; k < table.first[i + 1]; ++k) {
            if (table.resource[k] >= problem_.resource_count()) {
                add(Problem::missing_entry, named(what, i), named("resource", table.resource[k]),
                    "a resource of the problem", "add the resource or leave the use out");
            }
            if (!(table.amount[k] >= 0.0) || !std::isfinite(table.amount[k])) {
                add(Problem::out_of_range, named(what, i), "use " + std::to_string(table.amount[k]),
                    "a finite amount of 0 or more", "correct the amount");
            }
        }
    }

    void accesses() {
        for (std::size_t a = 0; a < problem_.access_count(); ++a) {
            const double cost = problem_.access.cost[a];
            if (!(cost >= 0.0) || !std::isfinite(cost)) {
                add(Problem::out_of_range, named("access", a), "cost " + std::to_string(cost),
                    "a finite cost of 0 or more", "correct the cost of the access");
            }
            uses(problem_.access.use, a, "access");
        }
    }

    void strategies() {
        for (std::size_t s = 0; s < problem_.strategy_count(); ++s) {
            if (!std::isfinite(problem_.strategies.cost[s])) {
                add(Problem::not_a_number, named("strategy", s), "a cost that is not finite",
                    "a finite cost", "correct the cost of the strategy");
            }
            uses(problem_.strategies.use, s, "strategy");
            for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                if (a < problem_.access_count()) continue;
                add(Problem::missing_entry, named("strategy", s), named("access", a),
                    "an access of the problem", "add the access or leave the need out");
            }
        }
    }

    void units() {
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            if (problem_.begin(unit) < problem_.end(unit)) continue;
            add(Problem::missing_value, named("unit", unit), "no strategy", "at least one strategy",
                "add a strategy, if only that of leaving the unit as it is");
        }
    }

    void bundles() {
        const IndexTable table = bundles_of(problem_);
        for (std::size_t b = 0; b < table.size(); ++b) {
            const auto members = table.of(b);
            if (!common_patterns(problem_, members).empty()) continue;
            add(Problem::contradiction, named("bundle", problem_.units.bundle[members.front()]),
                "no pattern that all its units offer", "a pattern that every unit can follow",
                "give its units strategies of one pattern, or take the bundle apart");
        }
    }

    const ChoiceProblem& problem_;
    Report report_;
};

}  // namespace

Report validate(const ChoiceProblem& problem) { return Checks(problem).run(); }

}  // namespace lagline
