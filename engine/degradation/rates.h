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
    std::uint8_t technique = 0;               ///< of the reading
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

/// Which of the readings that count make a rate.
enum class RateReadings : std::uint8_t { all, accepted };

/// @param readings  of the segment, by date, as read_history() leaves them
/// @param least_interval_years  between two walls that make a rate, > 0
/// @source API 570, corrosion rate determination: long-term and short-term rate
[[nodiscard]] WallLossRates wall_loss_rates(const Plant& plant, std::uint32_t segment,
                                            std::span<const Reading> readings,
                                            double least_interval_years,
                                            RateReadings which = RateReadings::all);

/// How far two walls may differ without any corrosion between them.
struct WallTolerance {
    const LookupTable* reading = nullptr;  ///< by technique [mm]
    double mill_share = 0.0;               ///< of the nominal wall

    /// Loss between two walls that their tolerances explain [mm]: the coarser of two techniques;
    /// from the nominal wall the mill's tolerance and that of the technique.
    [[nodiscard]] double explained_mm(const KnownWall& from, const KnownWall& to) const;
};

/// Time without protection [y] between two days.
using ExposedBetween = std::function<double(Date from, Date to)>;

/// Rates of unprotected steel between which the true one lies, by the losses found and their
/// tolerance [mm/y].
struct MeasuredRate {
    double least_mm_per_year = 0.0;
    double greatest_mm_per_year = 0.0;
};

/// Rates of unprotected steel that explain the losses from initial and from previous to actual
/// (eq. 46): each loss, less or more what tolerance explains, over the time without protection in
/// between.  The least is the greater of the two losses' and never below 0, the greatest the
/// lesser of them, and never below the least.  Zeros where no rate is known.
/// @param least_share  of the time between two walls that counts as exposed at the least, > 0: a
///                     loss found is proof that the coating did not protect all the time
[[nodiscard]] MeasuredRate measured_rate(const WallLossRates& rates, const ExposedBetween& exposed,
                                         double least_share, const WallTolerance& tolerance);

/// The rate used (eq. 47) [mm/y]: the table's, where the measured rates leave room for it.  It is
/// never below the least measured one.  Accepted readings take it down to the greatest measured
/// one, but not below `floor` times itself.
/// @param measured  of the whole surface
/// @param floor  share of the table's rate, 0 to 1
[[nodiscard]] double used_rate_mm_per_year(double table_mm_per_year, const MeasuredRate& measured,
                                           bool accepted, double floor);

}  // namespace lagline
