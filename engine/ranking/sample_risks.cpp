#include "ranking/sample_risks.h"

#include "ranking/method.h"

namespace lagline {

SampleRisks::SampleRisks(const Plant& plant, const RuleSet& rules, const InputDraws& draws,
                         const SobolPoints& points)
    : rules_(rules), sampled_(plant, rules, draws, points) {}

void SampleRisks::run(std::span<const SampledSegment> segments) {
    sampled_.make(segments);
    const Method method{sampled_.plant(), rules_, Method::Wanted::risk};
    Ranking ranking = method.start();
    const std::size_t first_cracking = ranking.mechanism_rows.wall_loss;
    for (const RowRange rows :
         {RowRange{0, first_cracking}, RowRange{first_cracking, ranking.rows()}}) {
        if (rows.size() == 0) continue;
        method.fill_conditions(rows, ranking);
        method.fill_state(rows, ranking);
    }
    for (const RowRange rows :
         {RowRange{0, first_cracking}, RowRange{first_cracking, ranking.rows()}}) {
        if (rows.size() > 0) method.fill_risk(rows, ranking);
    }
    risk_.resize(sampled_.plant().segments.rows());
    damage_.resize(risk_.size());
    for (std::size_t row = 0; row < ranking.rows(); ++row) {
        if (!ranking.stands_for_segment(row)) continue;
        const auto at = static_cast<Eigen::Index>(row);
        risk_[ranking.segment_rows[row]] = ranking.risk.risk_per_year[at];
        damage_[ranking.segment_rows[row]] = ranking.likelihood.damage_factor[at];
    }
}

SampledOutcome SampleRisks::outcome(std::size_t segment) const {
    const auto rows = sampled_.rows()[segment];
    return {{risk_.data() + rows.first, rows.count}, {damage_.data() + rows.first, rows.count}};
}

}  // namespace lagline
