#include "ranking/outlook.h"

#include <algorithm>

#include "ranking/method.h"

namespace lagline {

void look_at_today(const Method& method, Ranking& ranking, const WorkPlan& plan, Outlook& outlook) {
    const Date own = ranking.at.date;
    const std::size_t known = ranking.not_ranked.size();
    ranking.at.date = method.plant().today;
    for_each_mechanism_block(ranking.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_state(rows, ranking); });
    for_each_mechanism_block(ranking.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_risk(rows, ranking); });
    order_rows(method.plant(), ranking);
    outlook.today = ranking.at.date;
    outlook.rank_today.assign(ranking.rows(), 0);
    for (std::size_t rank = 0; rank < ranking.order.size(); ++rank) {
        const std::uint32_t row = ranking.order[rank];
        outlook.rank_today[row] = static_cast<std::uint32_t>(rank + 1);
        // Of two mechanisms another one may govern today.
        if (!ranking.partner.empty() && ranking.partner[row] != Ranking::alone) {
            outlook.rank_today[static_cast<std::size_t>(ranking.partner[row])] =
                outlook.rank_today[row];
        }
    }
    const Numbers& risk = ranking.risk.risk_per_year;
    outlook.risk_today_per_year.assign(risk.data(), risk.data() + risk.size());
    ranking.at.date = own;
    ranking.not_ranked.erase(ranking.not_ranked.begin() + static_cast<std::ptrdiff_t>(known),
                             ranking.not_ranked.end());
}

void look_ahead(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::size_t top,
                const WorkPlan& plan, Outlook& outlook) {
    outlook.horizon_years = usual_horizon_years;
    const std::size_t count = top == 0 ? ranking.order.size() : std::min(top, ranking.order.size());
    std::vector<std::uint32_t> segments;
    for (std::size_t rank = 0; rank < count; ++rank) {
        segments.push_back(ranking.segment_rows[ranking.order[rank]]);
    }
    const Forecast ahead = forecast(plant, rules, segments, outlook.horizon_years, plan);
    outlook.criteria = ahead.criteria;
    // A segment that today's date keeps out of the order keeps its place with nothing known.
    outlook.due.resize(count);
    std::size_t curve = 0;
    for (std::size_t rank = 0; rank < count && curve < ahead.curves.size(); ++rank) {
        if (ahead.curves[curve].segment_row != segments[rank]) continue;
        outlook.due[rank] = ahead.curves[curve++].due;
    }
}

}  // namespace lagline
