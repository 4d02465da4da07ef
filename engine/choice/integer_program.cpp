#include "choice/integer_program.h"

#include <algorithm>
#include <limits>
#include <map>

namespace lagline {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr int none = -1;

class Writer {
  public:
    Writer(const ChoiceProblem& problem, std::span<const std::uint8_t> keep)
        : problem_(problem), keep_(keep), opened_(problem.access_count(), false) {}

    IntegerProgram write() {
        settle();
        resource_rows();
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            if (out_.settled[unit] == no_strategy) free_unit(unit);
        }
        access_columns();
        overrun_columns();
        begin_column();
        end_column(out_.constant, 1.0, false);
        out_.low.back() = 1.0;
        return std::move(out_);
    }

  private:
    void settle() {
        out_.settled.assign(problem_.unit_count(), no_strategy);
        used_.assign(problem_.resource_count(), 0.0);
        for (UnitIndex unit = 0; unit < problem_.unit_count(); ++unit) {
            StrategyIndex only = no_strategy;
            std::size_t left = 0;
            for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
                if (keep_[s] == 0) continue;
                only = s;
                ++left;
            }
            // A unit of a bundle stays in it: its pattern binds the others.
            if (left != 1 || problem_.units.bundle[unit] != no_bundle) continue;
            out_.settled[unit] = only;
            out_.constant += problem_.strategies.cost[only];
            problem_.strategies.use.add_to(used_, only);
            for (const AccessIndex a : problem_.strategies.needs.of(only)) open(a);
        }
    }

    void open(AccessIndex a) {
        if (opened_[a]) return;
        opened_[a] = true;
        out_.constant += problem_.access.cost[a];
        problem_.access.use.add_to(used_, a);
    }

    int add_row(double low, double high) {
        out_.row_low.push_back(low);
        out_.row_high.push_back(high);
        return static_cast<int>(out_.rows() - 1);
    }

    /// Rows are divided by their capacity, so that the tolerance of the solver means a part of it.
    void resource_rows() {
        for (std::size_t r = 0; r < problem_.resource_count(); ++r) {
            const double capacity = problem_.resources.capacity[r];
            const bool limited = capacity < infinity;
            scale_.push_back(limited ? 1.0 / std::max(capacity, 1.0) : 0.0);
            row_of_resource_.push_back(limited ? add_row(-infinity, 0.0) : none);
            if (limited) out_.row_high.back() = (capacity - used_[r]) * scale_[r];
        }
        row_of_access_.assign(problem_.access_count(), {});
    }

    void begin_column() { uses_.clear(); }
    void put(int row, double value) {
        out_.row.push_back(row);
        out_.value.push_back(value);
    }
    void end_column(double cost, double high, bool is_integer) {
        for (const auto& [row, value] : uses_) put(row, value);
        out_.first.push_back(static_cast<int>(out_.row.size()));
        out_.cost.push_back(cost);
        out_.low.push_back(0.0);
        out_.high.push_back(high);
        out_.is_integer.push_back(is_integer ? 1 : 0);
    }
    void put_use(const UseTable& table, std::size_t i) {
        for (std::uint32_t k = table.first[i]; k < table.first[i + 1]; ++k) {
            const std::size_t r = table.resource[k];
            if (row_of_resource_[r] == none) continue;
            uses_[row_of_resource_[r]] += table.amount[k] * scale_[r];  // a row may come twice
        }
    }

    void free_unit(UnitIndex unit) {
        const int one = add_row(1.0, 1.0);
        std::map<AccessIndex, int> link;
        for (StrategyIndex s = problem_.begin(unit); s < problem_.end(unit); ++s) {
            if (keep_[s] == 0) continue;
            begin_column();
            uses_[one] = 1.0;
            put_use(problem_.strategies.use, s);
            for (const AccessIndex a : problem_.strategies.needs.of(s)) {
                if (opened_[a]) continue;
                const auto [at, is_new] = link.try_emplace(a, none);
                if (is_new) {
                    at->second = add_row(-infinity, 0.0);
                    row_of_access_[a].push_back(at->second);
                }
                uses_[at->second] = 1.0;
            }
            if (problem_.units.bundle[unit] != no_bundle) follow_bundle(unit, s);
            end_column(problem_.strategies.cost[s], 1.0, true);
            out_.strategy_of_column.push_back(s);
        }
    }

    /// One row for each unit but the first and each pattern: as much of it as the first unit takes.
    void follow_bundle(UnitIndex unit, StrategyIndex s) {
        const std::uint32_t bundle = problem_.units.bundle[unit];
        const std::uint32_t pattern = problem_.strategies.pattern[s];
        auto& leads = leader_[bundle];
        if (leads.first_unit == no_strategy) leads = lead(unit);
        if (leads.first_unit == unit) {
            for (const auto& rows : leads.rows) uses_[rows.at(pattern)] = 1.0;
            return;
        }
        const auto follower = leads.place.at(unit);
        uses_[leads.rows[follower].at(pattern)] = -1.0;
    }

    struct Leader {
        UnitIndex first_unit = no_strategy;
        std::map<UnitIndex, std::size_t> place;
        std::vector<std::map<std::uint32_t, int>> rows;  // by follower: pattern -> row
    };

    Leader lead(UnitIndex unit) {
        if (bundle_units_.empty()) {
            for (UnitIndex u = 0; u < problem_.unit_count(); ++u) {
                if (problem_.units.bundle[u] != no_bundle) {
                    bundle_units_[problem_.units.bundle[u]].push_back(u);
                }
            }
        }
        Leader leader;
        leader.first_unit = unit;
        for (const UnitIndex follower : bundle_units_[problem_.units.bundle[unit]]) {
            if (follower == unit) continue;
            leader.place[follower] = leader.rows.size();
            auto& rows = leader.rows.emplace_back();
            for (const UnitIndex either : {unit, follower}) {
                for (StrategyIndex s = problem_.begin(either); s < problem_.end(either); ++s) {
                    const auto [at, is_new] =
                        rows.try_emplace(problem_.strategies.pattern[s], none);
                    if (is_new) at->second = add_row(0.0, 0.0);
                }
            }
        }
        return leader;
    }

    void access_columns() {
        for (AccessIndex a = 0; a < problem_.access_count(); ++a) {
            if (row_of_access_[a].empty()) continue;
            begin_column();
            for (const int row : row_of_access_[a]) uses_[row] = -1.0;
            put_use(problem_.access.use, a);
            end_column(problem_.access.cost[a], 1.0, true);
        }
    }

    void overrun_columns() {
        for (std::size_t r = 0; r < problem_.resource_count(); ++r) {
            const double price = problem_.resources.overrun_price[r];
            if (row_of_resource_[r] == none || !(price < infinity)) continue;
            begin_column();
            uses_[row_of_resource_[r]] = -1.0;
            end_column(price / scale_[r], infinity, false);
        }
    }

    const ChoiceProblem& problem_;
    std::span<const std::uint8_t> keep_;
    std::vector<bool> opened_;
    std::vector<double> used_;
    std::vector<double> scale_;
    std::vector<int> row_of_resource_;
    std::vector<std::vector<int>> row_of_access_;
    std::map<std::uint32_t, Leader> leader_;
    std::map<std::uint32_t, std::vector<UnitIndex>> bundle_units_;
    std::map<int, double> uses_;
    IntegerProgram out_;
};

}  // namespace

IntegerProgram integer_program(const ChoiceProblem& problem, std::span<const std::uint8_t> keep) {
    return Writer(problem, keep).write();
}

}  // namespace lagline
