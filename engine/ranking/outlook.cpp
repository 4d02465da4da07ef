#include "ranking/outlook.h"

#include <algorithm>
#include <numeric>
#include <vector>

#include "ranking/method.h"

namespace lagline {

namespace {

// Of two mechanisms of a segment another one may govern today: its rank is that of both.
void store_rank(const Ranking& ranking, std::uint32_t row, std::uint32_t rank, Outlook& outlook) {
    outlook.rank_today[row] = rank;
    if (const auto other = ranking.other_mechanism(row)) outlook.rank_today[*other] = rank;
}

// The rows that are ranked today of the segments with the first ranks.
std::vector<std::uint32_t> todays_rows(const Ranking& ranking,
                                       std::span<const std::uint32_t> ranked_today,
                                       std::size_t top) {
    std::vector<std::uint8_t> is_ranked(ranking.rows(), 0);
    for (const std::uint32_t row : ranked_today) is_ranked[row] = 1;
    std::vector<std::uint32_t> rows;
    for (std::size_t rank = 0; rank < std::min(top, ranking.order.size()); ++rank) {
        const std::uint32_t row = ranking.order[rank];
        const std::uint32_t other = ranking.other_mechanism(row).value_or(row);
        if (is_ranked[row] != 0) {
            rows.push_back(row);
        } else if (is_ranked[other] != 0) {
            rows.push_back(other);
        }
    }
    return rows;
}

}  // namespace

std::vector<std::uint32_t> look_at_today(const Method& method, Ranking& ranking,
                                         const WorkPlan& plan, Outlook& outlook) {
    const Date own = ranking.at.date;
    const std::size_t known = ranking.not_ranked.size();
    ranking.at.date = method.plant().today;
    fill_state_and_risk(method, plan, ranking);
    std::vector<std::uint32_t> ranked = rows_to_rank(ranking);
    outlook.today = ranking.at.date;
    outlook.engineer_now = engineer_needs(method.plant(), method.rules(), ranking);
    outlook.risk_today_per_year = ranking.risk.risk_per_year;
    ranking.at.date = own;
    ranking.not_ranked.erase(ranking.not_ranked.begin() + static_cast<std::ptrdiff_t>(known),
                             ranking.not_ranked.end());
    return ranked;
}

void rank_today(const Plant& plant, const Ranking& ranking,
                std::span<const std::uint32_t> ranked_today, std::size_t top, const WorkPlan& plan,
                Outlook& outlook) {
    const RowBefore before = by_name(plant, ranking);
    outlook.rank_today.assign(ranking.rows(), 0);
    if (top == 0) {
        const auto order = by_falling_risk(ranked_today, outlook.risk_today_per_year, before, plan);
        for (std::size_t rank = 0; rank < order.size(); ++rank) {
            store_rank(ranking, order[rank], static_cast<std::uint32_t>(rank + 1), outlook);
        }
        return;
    }
    const auto rows = todays_rows(ranking, ranked_today, top);
    const auto ranks = ranks_by_risk(rows, ranked_today, outlook.risk_today_per_year, before, plan);
    for (std::size_t i = 0; i < rows.size(); ++i) store_rank(ranking, rows[i], ranks[i], outlook);
}

void look_ahead(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::size_t top,
                const WorkPlan& plan, Outlook& outlook) {
    outlook.horizon_years = usual_horizon_years;
    const std::size_t count = top == 0 ? ranking.order.size() : std::min(top, ranking.order.size());
    // In the order of the file, which is that of the memory they are read from.
    std::vector<std::uint32_t> ranks(count);
    std::iota(ranks.begin(), ranks.end(), 0U);
    const auto segment_of = [&](std::uint32_t rank) {
        return ranking.segment_rows[ranking.order[rank]];
    };
    std::ranges::sort(ranks, {}, segment_of);
    std::vector<std::uint32_t> segments(count);
    std::ranges::transform(ranks, segments.begin(), segment_of);
    const Forecast ahead = forecast(plant, rules, segments, outlook.horizon_years, plan);
    outlook.criteria = ahead.criteria;
    // A segment that today's date keeps out of the order keeps its place with nothing known.
    outlook.due.resize(count);
    std::size_t curve = 0;
    for (std::size_t i = 0; i < count && curve < ahead.curves.size(); ++i) {
        if (ahead.curves[curve].segment_row != segments[i]) continue;
        outlook.due[ranks[i]] = ahead.curves[curve++].due;
    }
}

}  // namespace lagline
