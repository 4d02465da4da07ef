#include "learning/past_date.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

#include "learning/as_known.h"
#include "learning/forecast.h"
#include "ranking/ranking.h"

namespace lagline {
namespace {

using S = SegmentField;

std::size_t at(OpeningOrder order) { return static_cast<std::size_t>(order); }

/// Rankings at both ends of the window by what was known at its start.
struct TwoRankings {
    Ranking start;
    Ranking end;
};

TwoRankings rank_both(KnownPlant& known, const RuleSet& rules, Date until, const WorkPlan& plan) {
    Ranking start = rank(known.plant, rules, plan);
    const RankDate begin = known.plant.ranked_at;
    known.plant.ranked_at.date = until;
    Ranking end = rank(known.plant, rules, plan);
    known.plant.ranked_at = begin;
    return {std::move(start), std::move(end)};
}

/// Scores the rows of the ranking at one past date.
class Scorer {
  public:
    Scorer(const KnownPlant& known, const RuleSet& rules, const TwoRankings& rankings,
           bool cracking)
        : known_(known),
          start_(rankings.start),
          end_(rankings.end),
          cracking_(cracking),
          base_rate_(rules.curve("base_rate")),
          drivers_(rules.vocabulary("driver").words.size()),
          likelihood_(likelihood_rules(rules, known.plant)) {}

    /// What to look for on a ranked row.
    [[nodiscard]] Suspect suspect(std::uint32_t row, const FindingRules& findings) const {
        const std::uint32_t segment = start_.segment_rows[row];
        Suspect suspect{known_.row_today[segment], cracking_, 0.0};
        if (cracking_) return suspect;
        suspect.finding_wall_mm =
            finding_wall_mm(findings, known_.plant.segments.numbers(S::nominal_wall)[segment],
                            start_.likelihood.minimum_thickness_mm[static_cast<Eigen::Index>(row)]);
        return suspect;
    }

    [[nodiscard]] LookedSegment score(std::uint32_t row, const Suspect& suspect,
                                      const Outcome& outcome) const {
        const auto i = static_cast<Eigen::Index>(row);
        const std::uint32_t segment = start_.segment_rows[row];
        LookedSegment looked{suspect.segment, outcome.inspection, outcome.found, 0.0, {}};
        looked.score[at(OpeningOrder::leak)] = start_.likelihood.probability_of_failure_per_year[i];
        looked.score[at(OpeningOrder::risk)] = start_.risk.risk_per_year[i];
        looked.score[at(OpeningOrder::age)] = age_years(segment);
        looked.score[at(OpeningOrder::temperature)] = rate_by_temperature(segment);
        if (cracking_) return looked;  // the method forecasts no share of cracked segments
        looked.chance = chance(row, suspect.finding_wall_mm, outcome.day);
        looked.score[at(OpeningOrder::chance)] = chance(row, suspect.finding_wall_mm, end_.at.date);
        return looked;
    }

  private:
    [[nodiscard]] double age_years(std::uint32_t segment) const {
        const Date coated{known_.plant.segments.days(S::coating_date)[segment]};
        return years_between(coated, start_.at.date);
    }

    // What a table of temperatures alone would say: the mean over the drivers.
    [[nodiscard]] double rate_by_temperature(std::uint32_t segment) const {
        const double degc = known_.plant.segments.numbers(S::operating_temperature)[segment];
        double sum = 0.0;
        for (std::size_t driver = 0; driver < drivers_; ++driver) {
            const RuleHit hit = base_rate_.find(static_cast<std::uint8_t>(driver), degc);
            sum += std::isfinite(hit.value) ? hit.value : 0.0;
        }
        return sum / static_cast<double>(drivers_);
    }

    // The expected loss on a day of the window lies on the straight line between its ends: the
    // history is the same at both.
    [[nodiscard]] double chance(std::uint32_t row, double finding_wall_mm, Date day) const {
        const auto i = static_cast<Eigen::Index>(row);
        const double known_mm = start_.wall_loss.wall_thickness_mm[i];
        const double window = end_.at.date.days - start_.at.date.days;
        const double along = (day.days - start_.at.date.days) / window;
        const double from = start_.likelihood.wall_fraction[i];
        const double fraction = from + along * (end_.likelihood.wall_fraction[i] - from);
        ExpectedWall wall{known_mm, fraction * known_mm, {}};
        for (std::size_t k = 0; k < damage_states; ++k) {
            wall.state_probability[k] = start_.likelihood.state_probability[k][i];
        }
        return probability_below(wall, finding_wall_mm, likelihood_.state_factor,
                                 likelihood_.scatter.thinning);
    }

    const KnownPlant& known_;
    const Ranking& start_;
    const Ranking& end_;
    bool cracking_;
    const CurveTable& base_rate_;
    std::size_t drivers_;
    LikelihoodRules likelihood_;
};

/// Standard error of the area under a gain curve, from that of the probability that a segment with
/// a finding comes before one without.
/// @source Hanley & McNeil 1982, Radiology 143, 29-36
double area_error(double area, std::size_t looked, std::size_t found) {
    const auto with = static_cast<double>(found);
    const auto without = static_cast<double>(looked - found);
    if (with == 0.0 || without == 0.0) return 0.0;
    const double share = with / (with + without);
    const double before = (area - share / 2.0) / (1.0 - share);
    const double q1 = before / (2.0 - before);
    const double q2 = 2.0 * before * before / (1.0 + before);
    const double variance = (before * (1.0 - before) + (with - 1.0) * (q1 - before * before) +
                             (without - 1.0) * (q2 - before * before)) /
                            (with * without);
    return (1.0 - share) * std::sqrt(std::max(0.0, variance));
}

void fill_gains(PastDate& date, bool cracking) {
    const std::size_t looked = date.looked.size();
    if (date.found == 0) return;
    for (std::size_t order = 0; order < opening_orders.size(); ++order) {
        if (cracking && opening_orders[order] == OpeningOrder::chance) continue;
        std::vector<Looked> cases;
        cases.reserve(looked);
        for (const LookedSegment& each : date.looked) {
            cases.push_back({each.score[order], each.found});
        }
        OrderGain& gain = date.gains[order];
        gain.curve = gain_curve(std::move(cases));
        gain.area = area_under(gain.curve);
        gain.area_error = area_error(gain.area, looked, date.found);
    }
    date.best_area = best_area(static_cast<double>(date.found) / static_cast<double>(looked));
}

}  // namespace

PastDateMaker::PastDateMaker(const PlantSources& sources, const Plant& today, const RuleSet& rules,
                             const BacktestOptions& options)
    : sources_(sources),
      today_(today),
      rules_(rules),
      options_(options),
      findings_(finding_rules(rules)),
      effectiveness_(inspection_effectiveness(today, rules)) {}

PastDate PastDateMaker::make(Date at) const {
    PastDate date;
    date.at = at;
    date.until = add_years(at, options_.within_years);
    const RuleSet rules = rules_as_known(rules_, at);
    auto known = plant_as_known(sources_, rules, at, options_.plan);
    if (!known) return date;
    date.not_in_service = known->not_in_service;
    date.coatings_later = known->coatings_later;
    date.insulation_later = known->insulation_later;
    const TwoRankings rankings = rank_both(*known, rules, date.until, options_.plan);
    const Scorer scorer{*known, rules, rankings, options_.cracking};
    const std::size_t first_cracking = rankings.start.mechanism_rows.wall_loss;
    for (const std::uint32_t row : rankings.start.order) {
        if ((row >= first_cracking) != options_.cracking) continue;
        ++date.ranked;
        const Suspect suspect = scorer.suspect(row, findings_);
        const auto outcome =
            first_outcome(today_, findings_, effectiveness_, suspect, at, date.until);
        if (!outcome) continue;
        date.looked.push_back(scorer.score(row, suspect, *outcome));
        date.found += outcome->found ? 1U : 0U;
    }
    fill_gains(date, options_.cracking);
    return date;
}

}  // namespace lagline
