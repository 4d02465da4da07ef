#include "choice/problem_text.h"

#include "blocks/number_text.h"

namespace choice_test {

using namespace lagline;

namespace {

void write_uses(std::ostream& out, const UseTable& table, std::size_t i) {
    out << ' ' << table.first[i + 1] - table.first[i];
    for (std::uint32_t k = table.first[i]; k < table.first[i + 1]; ++k) {
        out << ' ' << table.resource[k] << ' ' << exact_number(table.amount[k]);
    }
}

}  // namespace

void write_problem(std::ostream& out, const ChoiceProblem& problem) {
    out << "problem " << problem.resource_count() << ' ' << problem.access_count() << ' '
        << problem.unit_count() << '\n';
    for (std::size_t r = 0; r < problem.resource_count(); ++r) {
        out << "resource " << exact_number(problem.resources.capacity[r]) << ' '
            << exact_number(problem.resources.overrun_price[r]) << '\n';
    }
    for (AccessIndex a = 0; a < problem.access_count(); ++a) {
        out << "access " << exact_number(problem.access.cost[a]);
        write_uses(out, problem.access.use, a);
        out << '\n';
    }
    for (UnitIndex unit = 0; unit < problem.unit_count(); ++unit) {
        const std::uint32_t bundle = problem.units.bundle[unit];
        out << "unit " << (bundle == no_bundle ? -1L : static_cast<long>(bundle)) << ' '
            << problem.end(unit) - problem.begin(unit) << '\n';
        for (StrategyIndex s = problem.begin(unit); s < problem.end(unit); ++s) {
            out << "strategy " << exact_number(problem.strategies.cost[s]) << ' '
                << problem.strategies.pattern[s];
            write_uses(out, problem.strategies.use, s);
            const auto needs = problem.strategies.needs.of(s);
            out << ' ' << needs.size();
            for (const AccessIndex a : needs) out << ' ' << a;
            out << '\n';
        }
    }
}

}  // namespace choice_test
