#include "learning/past_date.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "learning/as_known.h"
#include "likelihood/wall_left.h"
#include "ranking/ranking.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t place(OpeningOrder order) { return static_cast<std::size_t>(order); }

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

/// A ranked row that was looked at.
struct LookedRow {
    std::uint32_t row = 0;
    double finding_wall_mm = 0.0;
    Outcome outcome;
};

/// Looks up what was found on the rows of one mechanism.
class Finder {
  public:
    Finder(const Plant& today, const FindingRules& rules,
           std::span<const std::uint8_t> effectiveness, const KnownPlant& known,
           const Ranking& ranking, bool cracking)
        : today_(today),
          rules_(rules),
          effectiveness_(effectiveness),
          known_(known),
          ranking_(ranking),
          cracking_(cracking) {}

    /// @param[out] ranked  rows of the mechanism that have a rank
    std::vector<LookedRow> find(Date after, Date until, std::size_t& ranked) const {
        const std::size_t wall_rows = ranking_.mechanism_rows.wall_loss;
        const std::size_t begin = cracking_ ? wall_rows : 0;
        const std::size_t end = cracking_ ? ranking_.rows() : wall_rows;
        std::vector<LookedRow> looked;
        for (auto row = static_cast<std::uint32_t>(begin); row < end; ++row) {
            if (!std::isfinite(ranking_.risk.risk_per_year[row])) continue;
            ++ranked;
            const Suspect suspect = suspect_of(row);
            const auto outcome =
                first_outcome(today_, rules_, effectiveness_, suspect, after, until);
            if (outcome) looked.push_back({row, suspect.finding_wall_mm, *outcome});
        }
        return looked;
    }

  private:
    [[nodiscard]] Suspect suspect_of(std::uint32_t row) const {
        const std::uint32_t segment = ranking_.segment_rows[row];
        Suspect suspect{known_.row_today[segment], cracking_, 0.0};
        if (cracking_) return suspect;
        const double nominal_mm = known_.plant.segments.numbers(S::nominal_wall)[segment];
        suspect.finding_wall_mm = finding_wall_mm(
            rules_, nominal_mm,
            ranking_.likelihood.minimum_thickness_mm[static_cast<Eigen::Index>(row)]);
        return suspect;
    }

    const Plant& today_;
    const FindingRules& rules_;
    std::span<const std::uint8_t> effectiveness_;
    const KnownPlant& known_;
    const Ranking& ranking_;
    bool cracking_;
};

/// Scores rows of the ranking at one past date by each order.
class Scorer {
  public:
    Scorer(const KnownPlant& known, const RuleSet& rules, const Ranking& ranking)
        : known_(known),
          ranking_(ranking),
          base_rate_(rules.curve("base_rate")),
          drivers_(rules.vocabulary("driver").words.size()) {}

    [[nodiscard]] LookedSegment score(const LookedRow& from) const {
        const auto row = static_cast<Eigen::Index>(from.row);
        const std::uint32_t segment = ranking_.segment_rows[from.row];
        LookedSegment looked{
            known_.row_today[segment], from.outcome.inspection, from.outcome.found, 0.0, {}};
        looked.score[place(OpeningOrder::leak)] =
            ranking_.likelihood.probability_of_failure_per_year[row];
        looked.score[place(OpeningOrder::risk)] = ranking_.risk.risk_per_year[row];
        looked.score[place(OpeningOrder::age)] = age_years(segment);
        looked.score[place(OpeningOrder::temperature)] = rate_by_temperature(segment);
        return looked;
    }

  private:
    [[nodiscard]] double age_years(std::uint32_t segment) const {
        const Date coated{known_.plant.segments.days(S::coating_date)[segment]};
        return years_between(coated, ranking_.at.date);
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

    const KnownPlant& known_;
    const Ranking& ranking_;
    const CurveTable& base_rate_;
    std::size_t drivers_;
};

/// Chance that a wall is at or below its limit at a share of the window (eq. 73): eq. 57 with that
/// limit.  The expected loss on a day of the window lies on the straight line between the ends, for
/// the history is the same at both.
/// @param along  share of the window that is over, of each row
Numbers chances(const TwoRankings& rankings, const LikelihoodRules& rules,
                const std::vector<LookedRow>& rows, const Numbers& along) {
    const auto count = static_cast<Eigen::Index>(rows.size());
    Numbers wall(count);
    Numbers fraction(count);
    Numbers limit(count);
    std::array<Numbers, damage_states> states;
    for (Numbers& each : states) each.resize(count);
    const LikelihoodColumns& start = rankings.start.likelihood;
    for (Eigen::Index i = 0; i < count; ++i) {
        const LookedRow& looked = rows[static_cast<std::size_t>(i)];
        const auto row = static_cast<Eigen::Index>(looked.row);
        wall[i] = rankings.start.wall_loss.wall_thickness_mm[row];
        const double from = start.wall_fraction[row];
        fraction[i] = from + along[i] * (rankings.end.likelihood.wall_fraction[row] - from);
        limit[i] = looked.finding_wall_mm;
        for (std::size_t k = 0; k < damage_states; ++k) {
            states[k][i] = start.state_probability[k][row];
        }
    }
    Numbers chance(count);
    below_minimum(wall, fraction, limit, {states[0], states[1], states[2]}, rules.state_factor,
                  rules.scatter.thinning, chance);
    return chance;
}

Numbers shares_of_window(const std::vector<LookedRow>& rows, Date from, Date until) {
    Numbers along(static_cast<Eigen::Index>(rows.size()));
    for (Eigen::Index i = 0; i < along.size(); ++i) {
        const Date day = rows[static_cast<std::size_t>(i)].outcome.day;
        along[i] = static_cast<double>(day.days - from.days) / (until.days - from.days);
    }
    return along;
}

/// Standard error of the area under a gain curve, from that of the probability that a segment with
/// a finding comes before one without.
/// @source Hanley & McNeil 1982, Radiology 143, 29-36
double area_error(double area, std::size_t looked, std::size_t found) {
    const auto with = static_cast<double>(found);
    const auto without = static_cast<double>(looked - found);
    if (with == 0.0 || without == 0.0) return 0.0;
    const double share = with / (with + without);
    const double before = (area - share / 2.0) / (1.0 - share);
    const double squared = before * before;
    const double variance = before * (1.0 - before) +
                            (with - 1.0) * (before / (2.0 - before) - squared) +
                            (without - 1.0) * (2.0 * squared / (1.0 + before) - squared);
    return (1.0 - share) * std::sqrt(std::max(0.0, variance) / (with * without));
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

std::string first_error(const Report& report) {
    for (const Diagnostic& each : report.diagnostics()) {
        if (each.severity == Severity::error) return to_string(each.where) + ": " + each.found;
    }
    return "its records have errors";
}

}  // namespace

PastDateMaker::PastDateMaker(const PlantSources& sources, const Plant& today, const RuleSet& rules,
                             const BacktestOptions& options)
    : sources_(sources),
      today_(today),
      rules_(rules),
      options_(options),
      findings_(finding_rules(rules)),
      effectiveness_(options.cracking ? crack_inspection_effectiveness(today, rules)
                                      : inspection_effectiveness(today, rules)) {}

PastDate PastDateMaker::make(Date at) const {
    PastDate date;
    date.at = at;
    date.until = add_years(at, options_.within_years);
    const RuleSet rules = rules_as_known(rules_, at);
    Report report;
    auto known = plant_as_known(sources_, rules, at, report, options_.plan);
    if (!known) {
        date.refusal = first_error(report);
        return date;
    }
    date.not_in_service = known->not_in_service;
    date.coatings_later = known->coatings_later;
    date.insulation_later = known->insulation_later;
    const TwoRankings rankings = rank_both(*known, rules, date.until, options_.plan);
    const Finder finder{today_, findings_,      effectiveness_,
                        *known, rankings.start, options_.cracking};
    const std::vector<LookedRow> rows = finder.find(at, date.until, date.ranked);
    const Scorer scorer{*known, rules, rankings.start};
    for (const LookedRow& each : rows) {
        date.looked.push_back(scorer.score(each));
        date.found += each.outcome.found ? 1U : 0U;
    }
    if (!options_.cracking) {  // the method forecasts no share of cracked segments
        const LikelihoodRules likelihood = likelihood_rules(rules, known->plant);
        const Numbers on_the_day =
            chances(rankings, likelihood, rows, shares_of_window(rows, at, date.until));
        const Numbers at_the_end = chances(rankings, likelihood, rows,
                                           Numbers::Ones(static_cast<Eigen::Index>(rows.size())));
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(i);
            date.looked[i].chance = on_the_day[row];
            date.looked[i].score[place(OpeningOrder::chance)] = at_the_end[row];
        }
    }
    fill_gains(date, options_.cracking);
    return date;
}

}  // namespace lagline
