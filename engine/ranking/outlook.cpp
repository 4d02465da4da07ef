#include "ranking/outlook.h"

#include <algorithm>

#include "ranking/method.h"

namespace lagline {
namespace {

void fill_today(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                const WorkPlan& plan, Outlook& outlook) {
    const Method method{plant, rules};
    Ranking today = ranking;
    today.at.date = plant.today;
    for_each_mechanism_block(today.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_state(rows, today); });
    for_each_mechanism_block(today.mechanism_rows, plan,
                             [&](RowRange rows) { method.fill_risk(rows, today); });
    order_rows(plant, today);
    outlook.rank_today.assign(ranking.rows(), 0);
    for (std::size_t rank = 0; rank < today.order.size(); ++rank) {
        const std::uint32_t row = today.order[rank];
        outlook.rank_today[row] = static_cast<std::uint32_t>(rank + 1);
        // Of two mechanisms another one may govern today.
        if (!today.partner.empty() && today.partner[row] != Ranking::alone) {
            outlook.rank_today[static_cast<std::size_t>(today.partner[row])] =
                outlook.rank_today[row];
        }
    }
    const Numbers& risk = today.risk.risk_per_year;
    outlook.risk_today_per_year.assign(risk.data(), risk.data() + risk.size());
}

}  // namespace

Outlook outlook_of(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                   std::size_t top, const WorkPlan& plan) {
    Outlook outlook;
    outlook.today = plant.today;
    outlook.horizon_years = usual_horizon_years;
    fill_today(plant, rules, ranking, plan, outlook);
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
    return outlook;
}

}  // namespace lagline
