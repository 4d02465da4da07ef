#include "planning/futures.h"

#include <algorithm>
#include <cmath>

#include "degradation/degradation.h"
#include "ranking/method.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr std::array needs{
    TableNeed{.name = "planning_horizon", .kind = TableKind::value, .dimension = Dimension::time},
    TableNeed{.name = "discount_rate", .kind = TableKind::value, .dimension = Dimension::frequency},
    TableNeed{.name = "jacket_seal_life", .kind = TableKind::value, .dimension = Dimension::time},
    TableNeed{
        .name = "renewed_condition", .kind = TableKind::value, .gives = "insulation_condition"},
    TableNeed{.name = "open_air_rate",
              .kind = TableKind::lookup,
              .dimension = Dimension::corrosion_rate,
              .by = "driver"},
    TableNeed{.name = "open_susceptibility_step", .kind = TableKind::value},
};

// Links inspections up to `until` only; the rows of later ones stay, unused.
void forget_later_inspections(Plant& plant, Date until) {
    std::vector<std::uint32_t> order;
    std::vector<std::uint32_t> begin{0};
    const auto days = plant.inspections.days(I::date);
    for (std::size_t segment = 0; segment < plant.segments.rows(); ++segment) {
        for (std::uint32_t i = plant.inspection_begin[segment];
             i < plant.inspection_begin[segment + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            if (Date{days[row]} <= until) order.push_back(row);
        }
        begin.push_back(static_cast<std::uint32_t>(order.size()));
    }
    plant.inspection_order = std::move(order);
    plant.inspection_begin = std::move(begin);
}

bool any_inspection_after(const Plant& plant, Date day) {
    return std::ranges::any_of(plant.inspections.days(I::date),
                               [&](std::int32_t each) { return Date{each} > day; });
}

/// Takes the columns of `Futures` from a ranking that is moved from date to date.
class FutureReader {
  public:
    FutureReader(const Plant& plant, const RuleSet& rules, const WorkPlan& plan, Futures& out)
        : plant_(plant),
          rules_(rules),
          plan_(plan),
          out_(out),
          method_(plant, rules, Method::Wanted::risk),
          ahead_(method_.start(out.segment_rows)) {
        choose_rows();
        each_block([&](RowRange rows) { method_.fill_conditions(rows, ahead_); });
    }

    void read() {
        resize();
        for (std::size_t date = 0; date < out_.dates.size(); ++date) {
            ahead_.at.date = out_.dates[date];
            each_block([&](RowRange rows) { method_.fill_state(rows, ahead_); });
            each_block([&](RowRange rows) { method_.fill_risk(rows, ahead_); });
            read_date(static_cast<Eigen::Index>(date));
            if (date > 0) continue;
            for (std::size_t i = 0; i < out_.rows(); ++i) read_today(i);
        }
    }

  private:
    void each_block(const std::function<void(RowRange)>& work) {
        for_each_mechanism_block(ahead_.mechanism_rows, plan_, work);
    }

    // The row of the mechanism that stood for the segment in the ranking.
    void choose_rows() {
        rows_.resize(out_.rows());
        const std::size_t first = ahead_.mechanism_rows.wall_loss;
        for (std::size_t row = 0; row < ahead_.rows(); ++row) {
            const std::size_t i = out_.find(ahead_.segment_rows[row]).value();
            const bool cracks = row >= first;
            if (cracks == (out_.cracks[static_cast<Eigen::Index>(i)] != 0)) rows_[i] = row;
        }
    }

    void resize() {
        const auto rows = static_cast<Eigen::Index>(out_.rows());
        const auto dates = static_cast<Eigen::Index>(out_.dates.size());
        out_.exposed_years.resize(dates, rows);
        if (ahead_.models.two_mechanisms) out_.excess_damage_factor.resize(dates, rows);
        for (Numbers* column :
             {&out_.frequency_per_year, &out_.leak_cost, &out_.rate_mm_per_year, &out_.wall_mm,
              &out_.accepted_wall_mm, &out_.accepted_exposed_years, &out_.strength_ratio,
              &out_.water_factor, &out_.susceptibility_steps, &out_.water_steps}) {
            column->setZero(rows);
        }
        for (auto& column : out_.state_probability) column.setZero(rows);
        for (auto& column : out_.prior) column.setZero(rows);
        for (auto& column : out_.inspections) column.setZero(rows);
        for (Codes* column :
             {&out_.driver, &out_.susceptibility, &out_.cracks_found, &out_.at_minimum}) {
            column->setZero(rows);
        }
    }

    void read_date(Eigen::Index date) {
        const LikelihoodColumns& likelihood = ahead_.likelihood;
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            const auto own = static_cast<Eigen::Index>(i);
            const auto row = static_cast<Eigen::Index>(rows_[i]);
            out_.exposed_years(date, own) = ahead_.coating.exposed_time_years[row];
            if (out_.excess_damage_factor.size() == 0) continue;
            out_.excess_damage_factor(date, own) =
                likelihood.combined_damage_factor[row] - likelihood.damage_factor[row];
        }
    }

    void read_today(std::size_t i) {
        const auto own = static_cast<Eigen::Index>(i);
        const auto row = static_cast<Eigen::Index>(rows_[i]);
        const LikelihoodColumns& likelihood = ahead_.likelihood;
        out_.driver[own] = ahead_.exposure.driver[row];
        out_.frequency_per_year[own] =
            likelihood.generic_frequency_per_year[row] * likelihood.management_factor[row];
        out_.leak_cost[own] = ahead_.consequence.leak_cost[row];
        if (out_.cracks[own] == 0) {
            read_wall(own, row);
        } else {
            read_cracking(own, row);
        }
    }

    void read_wall(Eigen::Index own, Eigen::Index row) {
        const WallLossColumns& wall = ahead_.wall_loss;
        out_.rate_mm_per_year[own] = wall.corrosion_rate_mm_per_year[row];
        out_.wall_mm[own] = wall.wall_thickness_mm[row];
        const bool apart = wall.readings.at_small_coverage[row] != 0;
        out_.accepted_wall_mm[own] =
            (apart ? wall.readings.accepted_wall_mm : wall.wall_thickness_mm)[row];
        out_.accepted_exposed_years[own] = wall.readings.accepted_exposed_years[row];
        out_.at_minimum[own] = ahead_.likelihood.at_minimum[row];
        out_.strength_ratio[own] = ahead_.likelihood.strength_ratio[row];
        out_.water_factor[own] = wall.insulation_factor[row] * wall.condition_factor[row];
        const std::uint8_t confidence = plant_.segments.codes(
            S::data_confidence)[out_.segment_rows[static_cast<std::size_t>(own)]];
        for (std::size_t k = 0; k < damage_states; ++k) {
            out_.state_probability[k][own] = ahead_.likelihood.state_probability[k][row];
            out_.prior[k][own] =
                rules_.grid("prior_probability").at(confidence, static_cast<std::uint8_t>(k)).value;
        }
    }

    void read_cracking(Eigen::Index own, Eigen::Index row) {
        const CrackingColumns& cracking = ahead_.cracking;
        const auto cracking_row = row - static_cast<Eigen::Index>(ahead_.mechanism_rows.wall_loss);
        const std::uint32_t segment = out_.segment_rows[static_cast<std::size_t>(own)];
        out_.susceptibility[own] = cracking.susceptibility[cracking_row];
        out_.susceptibility_steps[own] = cracking.steps[cracking_row];
        out_.cracks_found[own] = cracking.cracks_found[cracking_row];
        const std::uint8_t condition =
            insulation_condition(plant_, ahead_.exposure, static_cast<std::size_t>(row), segment);
        const std::uint8_t type = plant_.segments.codes(S::insulation_type)[segment];
        out_.water_steps[own] = rules_.lookup("scc_condition_step").value(condition) +
                                rules_.lookup("scc_insulation_step").value(type);
        for (std::size_t c = 0; c < telling_categories; ++c) {
            out_.inspections[c][own] = ahead_.likelihood.inspections[c][row];
        }
        out_.state_probability[0][own] = 1.0;
        out_.prior[0][own] = 1.0;
    }

    const Plant& plant_;
    const RuleSet& rules_;
    WorkPlan plan_;
    Futures& out_;
    Method method_;
    Ranking ahead_;
    std::vector<std::size_t> rows_;  ///< of `ahead_`, of each row of `out_`
};

// The segments in the order of the ranking, by segment row.
void choose_segments(const Ranking& ranking, Futures& out) {
    out.ranking_rows.assign(ranking.order.begin(), ranking.order.end());
    std::ranges::sort(out.ranking_rows, {},
                      [&](std::uint32_t row) { return ranking.segment_rows[row]; });
    out.cracks.resize(static_cast<Eigen::Index>(out.ranking_rows.size()));
    for (const std::uint32_t row : out.ranking_rows) {
        out.cracks[static_cast<Eigen::Index>(out.segment_rows.size())] =
            row < ranking.mechanism_rows.wall_loss ? 0 : 1;
        out.segment_rows.push_back(ranking.segment_rows[row]);
    }
}

}  // namespace

double Horizon::discount(double years_ahead) const {
    return std::pow(1.0 + discount_rate_per_year, -years_ahead);  // eq. 85
}

EndWeights Horizon::weights(double from_years, double to_years) const {
    const double span = to_years - from_years;
    const double x = std::log1p(discount_rate_per_year) * span;
    const double worth = span * discount(from_years);
    // Below this the closed form would lose digits that the series keeps.
    constexpr double small = 1e-3;
    if (std::abs(x) < small) {
        return {worth * (1.0 / 2.0 - x / 6.0 + x * x / 24.0),
                worth * (1.0 / 2.0 - x / 3.0 + x * x / 8.0)};
    }
    const double left = std::exp(-x);
    return {worth * (x - 1.0 + left) / (x * x), worth * (1.0 - left - x * left) / (x * x)};
}

Horizon horizon_of(const RuleSet& rules) {
    const double years_ahead = std::floor(rules.value("planning_horizon").value());
    return {std::max(1, static_cast<int>(years_ahead)), rules.value("discount_rate").value()};
}

std::span<const TableNeed> future_needs() { return needs; }

std::optional<std::size_t> Futures::find(std::uint32_t segment_row) const {
    const auto found = std::ranges::lower_bound(segment_rows, segment_row);
    if (found == segment_rows.end() || *found != segment_row) return std::nullopt;
    return static_cast<std::size_t>(found - segment_rows.begin());
}

double Futures::years_to(Date date) const {
    return std::clamp(years_between(today, date), 0.0, static_cast<double>(horizon.years));
}

std::array<double, damage_states> Futures::states(std::size_t row) const {
    std::array<double, damage_states> all{};
    for (std::size_t k = 0; k < damage_states; ++k) {
        all[k] = state_probability[k][static_cast<Eigen::Index>(row)];
    }
    return all;
}

Futures futures(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                const WorkPlan& plan) {
    Futures out;
    out.today = plant.today;
    out.horizon = horizon_of(rules);
    for (int year = 0; year <= out.horizon.years; ++year) {
        out.dates.push_back(add_years(plant.today, year));
    }
    choose_segments(ranking, out);
    if (!any_inspection_after(plant, plant.today)) {
        FutureReader{plant, rules, plan, out}.read();
        return out;
    }
    Plant known = plant;
    forget_later_inspections(known, plant.today);
    FutureReader{known, rules, plan, out}.read();
    return out;
}

}  // namespace lagline
