#include "ranking/forecast.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "ranking/engineer_list.h"
#include "ranking/method.h"

namespace lagline {
namespace {

// How far a point is beyond a criterion: 0 or more once it is reached.
double beyond(Criterion criterion, const Criteria& criteria, const ForecastCurve& curve,
              const ForecastPoint& point) {
    switch (criterion) {
        case Criterion::fact:
            break;
        case Criterion::wall:
            return curve.minimum_thickness_mm - point.expected_wall_mm;
        case Criterion::probability:
            return point.probability_per_year - criteria.probability_per_year.value();
        case Criterion::risk:
            return point.risk_per_year - criteria.risk_per_year.value();
    }
    return -1.0;
}

std::optional<Date> day_reached(Criterion criterion, const Criteria& criteria,
                                const ForecastCurve& curve, const std::vector<Date>& dates) {
    if (!criteria.has(criterion)) return std::nullopt;
    if (criterion == Criterion::wall && !curve.loses_wall) return std::nullopt;
    double before = beyond(criterion, criteria, curve, curve.points.front());
    if (before >= 0.0) return dates.front();
    for (std::size_t i = 1; i < dates.size(); ++i) {
        const double after = beyond(criterion, criteria, curve, curve.points[i]);
        if (after >= 0.0) {
            const double share = -before / (after - before);  // eq. 58
            const double days = dates[i].days - dates[i - 1].days;
            return Date{dates[i - 1].days + static_cast<std::int32_t>(std::ceil(share * days))};
        }
        before = after;
    }
    return std::nullopt;
}

/// Fills the state of the same rows at one date after another.
class Forecaster {
  public:
    Forecaster(const Plant& plant, const RuleSet& rules, std::span<const std::uint32_t> segments,
               const WorkPlan& plan)
        : method_(plant, rules), ranking_(method_.start(segments)), plan_(plan) {
        each_block([&](RowRange rows) { method_.fill_conditions(rows, ranking_); });
    }

    void move_to(Date date) {
        ranking_.at.date = date;
        each_block([&](RowRange rows) { method_.fill_state(rows, ranking_); });
        each_block([&](RowRange rows) { method_.fill_risk(rows, ranking_); });
    }

    // The rows that stand for their segments, each at the place of its segment in what was asked.
    std::vector<ForecastCurve> empty_curves(std::span<const std::uint32_t> segments) {
        std::unordered_map<std::uint32_t, std::size_t> place;
        for (std::size_t i = 0; i < segments.size(); ++i) place.emplace(segments[i], i);
        std::vector<std::vector<std::size_t>> rows_of(segments.size());
        for (std::size_t row = 0; row < ranking_.rows(); ++row) {
            if (std::isfinite(ranking_.risk.risk_per_year[static_cast<Eigen::Index>(row)])) {
                rows_of[place.at(ranking_.segment_rows[row])].push_back(row);
            }
        }
        std::vector<ForecastCurve> curves;
        for (std::size_t i = 0; i < segments.size(); ++i) {
            if (rows_of[i].empty()) continue;
            curves.push_back({.segment_row = segments[i],
                              .loses_wall = rows_of[i].front() < first_cracking(),
                              .minimum_thickness_mm = 0.0,
                              .points = {},
                              .due = {}});
            rows_.push_back(rows_of[i].front());
        }
        return curves;
    }

    /// The segments that need an engineer now; asked at the first date, which is today.
    [[nodiscard]] std::vector<EngineerNeed> engineer_needs() const {
        return by_segment(lagline::engineer_needs(method_.plant(), method_.rules(), ranking_));
    }

    void append_points(std::vector<ForecastCurve>& curves) const {
        const LikelihoodColumns& likelihood = ranking_.likelihood;
        const bool two = likelihood.combined_damage_factor.size() > 0;
        for (std::size_t i = 0; i < curves.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(rows_[i]);
            ForecastPoint point;
            point.damage_factor =
                (two ? likelihood.combined_damage_factor : likelihood.damage_factor)[row];
            point.probability_per_year = likelihood.probability_of_failure_per_year[row];
            point.risk_per_year = ranking_.risk.risk_per_year[row];
            if (curves[i].loses_wall) {
                point.expected_wall_mm = likelihood.expected_wall_mm[row];
                point.below_minimum = likelihood.below_minimum[row];
                curves[i].minimum_thickness_mm = likelihood.minimum_thickness_mm[row];
            }
            curves[i].points.push_back(point);
        }
    }

  private:
    void each_block(const std::function<void(RowRange)>& work) {
        for_each_mechanism_block(ranking_.mechanism_rows, plan_, work);
    }
    [[nodiscard]] std::size_t first_cracking() const { return ranking_.mechanism_rows.wall_loss; }

    Method method_;
    Ranking ranking_;
    WorkPlan plan_;
    std::vector<std::size_t> rows_;  ///< of each curve; wall loss where the segment has both
};

}  // namespace

std::optional<Criterion> DueDates::first() const {
    std::optional<Criterion> earliest;
    for (const Criterion criterion : all_criteria) {
        const auto& day = reached[static_cast<std::size_t>(criterion)];
        if (!day) continue;
        if (!earliest || *day < *reached[static_cast<std::size_t>(*earliest)]) earliest = criterion;
    }
    return earliest;
}

std::optional<Date> DueDates::date() const {
    const auto criterion = first();
    if (!criterion) return std::nullopt;
    return reached[static_cast<std::size_t>(*criterion)];
}

Forecast forecast(const Plant& plant, const RuleSet& rules, std::span<const std::uint32_t> rows,
                  int years, const WorkPlan& plan) {
    Forecast result;
    result.criteria = criteria_of(plant, rules);
    Forecaster forecaster{plant, rules, rows, plan};
    std::vector<EngineerNeed> needs;
    for (int year = 0; year <= years; ++year) {
        result.dates.push_back(add_years(plant.today, year));
        forecaster.move_to(result.dates.back());
        if (year == 0) {
            result.curves = forecaster.empty_curves(rows);
            needs = forecaster.engineer_needs();
        }
        forecaster.append_points(result.curves);
    }
    for (ForecastCurve& curve : result.curves) {
        for (const Criterion criterion : all_criteria) {
            curve.due.reached[static_cast<std::size_t>(criterion)] =
                day_reached(criterion, result.criteria, curve, result.dates);
        }
        if (!reason_words(needs, curve.segment_row).empty()) {
            curve.due.reached[static_cast<std::size_t>(Criterion::fact)] = plant.today;
        }
    }
    return result;
}

}  // namespace lagline
