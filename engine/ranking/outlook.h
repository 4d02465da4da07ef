#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "ranking/criteria.h"
#include "ranking/forecast.h"

namespace lagline {

class Method;
struct Ranking;

/// What stands beside a rank: where the segment stands today, and when it is due.
struct Outlook {
    Date today;
    std::vector<std::uint32_t> rank_today;    ///< by ranked row, from 1; 0 where there is none
    std::vector<double> risk_today_per_year;  ///< by ranked row
    Criteria criteria;
    int horizon_years = 0;
    std::vector<DueDates> due;  ///< of the first ranks only, by rank: due[0] is rank 1
};

/// Today's rank and risk of every row.  `ranking` is started and its conditions are filled; its
/// state, risk and order are then those of today, to be filled again for its own date.
void look_at_today(const Method& method, Ranking& ranking, const WorkPlan& plan, Outlook& outlook);

/// Due dates of the first `top` ranks.
/// @param top  0 for all
void look_ahead(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::size_t top,
                const WorkPlan& plan, Outlook& outlook);

}  // namespace lagline
