#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "ranking/criteria.h"
#include "ranking/engineer_list.h"
#include "ranking/forecast.h"

namespace lagline {

class Method;
struct Ranking;

/// What stands beside a rank: where the segment stands today, and when it is due.
struct Outlook {
    Date today;
    std::vector<std::uint32_t> rank_today;   ///< by ranked row, from 1; 0 where there is none
    Numbers risk_today_per_year;             ///< by ranked row
    std::vector<EngineerNeed> engineer_now;  ///< of the whole plant, whatever ranks are wanted
    Criteria criteria;
    int horizon_years = 0;
    std::vector<DueDates> due;  ///< of the first ranks only, by rank: due[0] is rank 1
};

/// Today's risk of every row, and the rows that are ranked today.  `ranking` is started and its
/// conditions are filled; its state and risk are then those of today, to be filled again for its
/// own date.
[[nodiscard]] std::vector<std::uint32_t> look_at_today(const Method& method, Ranking& ranking,
                                                       const WorkPlan& plan, Outlook& outlook);

/// Today's ranks of the segments that have the first `top` ranks, from what look_at_today() gave.
/// @param top  0 for all
void rank_today(const Plant& plant, const Ranking& ranking,
                std::span<const std::uint32_t> ranked_today, std::size_t top, const WorkPlan& plan,
                Outlook& outlook);

/// Due dates of the first `top` ranks.
/// @param top  0 for all
void look_ahead(const Plant& plant, const RuleSet& rules, const Ranking& ranking, std::size_t top,
                const WorkPlan& plan, Outlook& outlook);

}  // namespace lagline
