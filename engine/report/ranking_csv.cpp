#include "report/ranking_csv.h"

#include "report/ranking_rows.h"

namespace lagline {

std::string ranking_csv(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                        std::size_t top, const WorkPlan& plan) {
    return csv_of(RankingRows{plant, rules, ranking, top}, plan);
}

}  // namespace lagline
