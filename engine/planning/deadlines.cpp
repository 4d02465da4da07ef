#include "planning/deadlines.h"

#include <algorithm>

namespace lagline {
namespace {

// Days between windows where there is only one to go by.
constexpr int usual_days = 3 * 365;

std::optional<std::size_t> last_chance(std::span<const PlanWindow> windows, Date due) {
    const auto next = next_chance_after(windows);
    if (!next || due >= *next) return std::nullopt;
    std::size_t window = 0;
    while (window + 1 < windows.size() && windows[window + 1].start <= due) ++window;
    return window;
}

bool opens_by(std::span<const Strategy> strategies, std::size_t window) {
    return std::ranges::any_of(strategies, [&](const Strategy& strategy) {
        return strategy.opens() && strategy.window <= window;
    });
}

}  // namespace

std::optional<Date> next_chance_after(std::span<const PlanWindow> windows) {
    if (windows.empty()) return std::nullopt;
    const Date last = windows.back().start;
    if (windows.size() == 1) return Date{last.days + usual_days};
    const auto gaps = static_cast<std::int32_t>(windows.size() - 1);
    return Date{last.days + (last.days - windows.front().start.days) / gaps};
}

std::vector<Deadline> find_deadlines(const Ranking& ranking, const Futures& futures,
                                     std::span<const PlanWindow> windows,
                                     const Strategies& strategies) {
    std::vector<Deadline> by_ranking_row(ranking.rows());
    for (std::size_t rank = 0; rank < ranking.order.size(); ++rank) {
        const DueDates& due = ranking.outlook->due[rank];
        const auto criterion = due.first();
        if (!criterion) continue;
        by_ranking_row[ranking.order[rank]].due = due.date();
        by_ranking_row[ranking.order[rank]].criterion = *criterion;
    }
    std::vector<Deadline> found(futures.rows());
    for (std::size_t row = 0; row < futures.rows(); ++row) {
        Deadline& deadline = found[row];
        deadline = by_ranking_row[futures.ranking_rows[row]];
        if (!deadline.due) continue;
        deadline.window = last_chance(windows, *deadline.due);
        if (deadline.window) deadline.can_be_met = opens_by(strategies.of(row), *deadline.window);
    }
    return found;
}

}  // namespace lagline
