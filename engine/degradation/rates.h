#pragma once

#include <cstdint>
#include <functional>
#include <span>

#include "degradation/history.h"
#include "degradation/readings.h"
#include "plant/plant.h"

namespace lagline {

/// A wall and the day on which it was known.
struct KnownWall {
    double wall_mm = 0.0;
    Date day;
    std::int32_t reading = History::nothing;  ///< row of inspections.csv; nothing: nominal wall
};

/// Corrosion rates by the definitions of API 570 (eq. 42).
struct WallLossRates {
    bool known = false;  ///< there are two walls far enough apart in time; else the rest is 0
    KnownWall initial;   ///< nominal wall at the start of service, or a reading not later than that
    KnownWall previous;  ///< the wall before the last one, far enough before it
    KnownWall actual;    ///< the last one
    double long_term_mm_per_year = 0.0;   ///< from initial to actual; 0 where the wall grew
    double short_term_mm_per_year = 0.0;  ///< from previous to actual; 0 where the wall grew
};

/// @param readings  of the segment, by date, as read_history() leaves them
/// @param least_interval_years  between two walls that make a rate, > 0
/// @source API 570, corrosion rate determination: long-term and short-term rate
[[nodiscard]] WallLossRates wall_loss_rates(const Plant& plant, std::uint32_t segment,
                                            std::span<const Reading> readings,
                                            double least_interval_years);

/// Time without protection [y] between two days.
using ExposedBetween = std::function<double(Date from, Date to)>;

/// Rate of unprotected steel that explains the loss that was found (eq. 46): the greater of the
/// losses from initial and from previous to actual, each over the time without protection in
/// between, so that rate x exposed time gives the loss back [mm/y].  0 where no rate is known.
/// @param least_share  of the time between two walls that counts as exposed at the least, > 0: a
///                     loss found is proof that the coating did not protect all the time
[[nodiscard]] double measured_rate_mm_per_year(const WallLossRates& rates,
                                               const ExposedBetween& exposed, double least_share);

/// The rate used (eq. 47) [mm/y].  An accepted measured rate takes the place of the table's, but
/// not below `floor` times it; another one counts where it is the greater.
/// @param measured_mm_per_year  of the whole surface
/// @param floor  share of the table's rate, 0 to 1
[[nodiscard]] double used_rate_mm_per_year(double table_mm_per_year, double measured_mm_per_year,
                                           bool accepted, double floor);

}  // namespace lagline
