#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "likelihood/likelihood.h"
#include "plant/plant.h"
#include "quantity/date.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What a quantity that runs straight from one time to another is worth today, as weights of its
/// two ends.
struct EndWeights {
    double from = 0.0;  ///< [y]
    double to = 0.0;    ///< [y]
};

/// How far ahead planning looks, and what later money is worth today.
struct Horizon {
    int years = 0;  ///< from today
    double discount_rate_per_year = 0.0;

    /// Present value of 1 paid `years_ahead` from today (eq. 85).
    [[nodiscard]] double discount(double years_ahead) const;
    /// Of what flows between two times, from_years < to_years, discounted day by day (eq. 87).
    [[nodiscard]] EndWeights weights(double from_years, double to_years) const;
};
/// From the rules planning_horizon (whole years, at least 1) and discount_rate.
[[nodiscard]] Horizon horizon_of(const RuleSet& rules);

/// Tables that planning reads on top of those of the ranking.
[[nodiscard]] std::span<const TableNeed> future_needs();

/// A table with one row per date and one column per segment; the dates of a segment lie together.
using DateTable = Eigen::ArrayXXd;

/// What decides the years ahead of every ranked segment, as known today.  One row per segment, by
/// ascending segment row: the mechanism that stands for it in the ranking.  Where a segment has
/// two, the other one goes on as if left alone, whatever is done (docs/method.md, section 22).
struct Futures {
    Date today;
    Horizon horizon;
    std::vector<Date> dates;  ///< today and the same day of each year up to the horizon

    std::vector<std::uint32_t> segment_rows;
    std::vector<std::uint32_t> ranking_rows;  ///< of the ranking that was asked
    Codes cracks;                             ///< 1 where cracking stands for the segment
    Codes driver;                             ///< vocabulary `driver`

    DateTable exposed_years;         ///< without protection, at each date, if left alone
    DateTable excess_damage_factor;  ///< by the other mechanism; empty where no segment has two
    Numbers frequency_per_year;      ///< generic frequency x management factor
    Numbers leak_cost;               ///< plant currency

    // Wall loss; 0 in rows of cracking, whose state 1 has probability 1.
    Numbers rate_mm_per_year;
    Numbers wall_mm;                 ///< last known
    Numbers accepted_wall_mm;        ///< by accepted readings alone; wall_mm where those gave it
    Numbers accepted_exposed_years;  ///< without protection, from that wall to the one last known
    Codes at_minimum;  ///< 1 where a reading that nothing cleared is at or below the minimum
    Numbers strength_ratio;
    Numbers water_factor;  ///< insulation factor x condition factor in the rate
    std::array<Numbers, damage_states> state_probability;
    std::array<Numbers, damage_states> prior;

    // Cracking; 0 in rows of wall loss.
    Codes susceptibility;  ///< by temperature and driver, before the steps
    Numbers susceptibility_steps;
    Numbers water_steps;  ///< those of them by insulation and its condition
    Codes cracks_found;
    std::array<Numbers, telling_categories> inspections;

    [[nodiscard]] std::size_t rows() const { return segment_rows.size(); }
    /// Row of a segment; nothing where it is not ranked.
    [[nodiscard]] std::optional<std::size_t> find(std::uint32_t segment_row) const;
    /// Years from today, at least 0 and at most the horizon.
    [[nodiscard]] double years_to(Date date) const;
    [[nodiscard]] std::array<double, damage_states> states(std::size_t row) const;
};

/// The futures of the segments in the order of `ranking`, by the method of rank() at each date.
/// Inspections after plant.today are left out: nobody knows them yet.
[[nodiscard]] Futures futures(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                              const WorkPlan& plan = {});

}  // namespace lagline
