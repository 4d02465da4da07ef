#include "degradation/rates.h"

#include <algorithm>

#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

double rate_between(const KnownWall& from, const KnownWall& to) {
    const double loss_mm = std::max(0.0, from.wall_mm - to.wall_mm);
    return loss_mm / years_between(from.day, to.day);  // eq. 42
}

double exposed_rate(const KnownWall& from, const KnownWall& to, const ExposedBetween& exposed,
                    double least_share) {
    const double loss_mm = std::max(0.0, from.wall_mm - to.wall_mm);
    if (loss_mm == 0.0) return 0.0;
    const double least_years = least_share * years_between(from.day, to.day);
    return loss_mm / std::max(exposed(from.day, to.day), least_years);  // eq. 46
}

KnownWall known(const Reading& reading) {
    return {reading.wall_mm, reading.day, static_cast<std::int32_t>(reading.row)};
}

}  // namespace

WallLossRates wall_loss_rates(const Plant& plant, std::uint32_t segment,
                              std::span<const Reading> readings, double least_interval_years) {
    WallLossRates rates;
    const Date service{plant.segments.days(S::in_service)[segment]};
    KnownWall initial{plant.segments.numbers(S::nominal_wall)[segment], service, History::nothing};
    const Reading* last = nullptr;
    for (const Reading& reading : readings) {
        if (!reading.counts) continue;
        if (reading.day <= service) initial = known(reading);
        last = &reading;
    }
    if (last == nullptr) return rates;
    const auto far_enough = [&](Date day) {
        return years_between(day, last->day) >= least_interval_years;
    };
    if (!far_enough(initial.day)) return rates;
    rates.known = true;
    rates.initial = initial;
    rates.previous = initial;
    rates.actual = known(*last);
    for (const Reading& reading : readings) {
        if (reading.counts && reading.day > service && far_enough(reading.day)) {
            rates.previous = known(reading);
        }
    }
    rates.long_term_mm_per_year = rate_between(rates.initial, rates.actual);
    rates.short_term_mm_per_year = rate_between(rates.previous, rates.actual);
    return rates;
}

double measured_rate_mm_per_year(const WallLossRates& rates, const ExposedBetween& exposed,
                                 double least_share) {
    if (!rates.known) return 0.0;
    const double long_term = exposed_rate(rates.initial, rates.actual, exposed, least_share);
    if (rates.previous.day == rates.initial.day) return long_term;
    return std::max(long_term, exposed_rate(rates.previous, rates.actual, exposed, least_share));
}

double used_rate_mm_per_year(double table_mm_per_year, double measured_mm_per_year, bool accepted,
                             double floor) {
    const double least = accepted ? floor * table_mm_per_year : table_mm_per_year;
    // In this order a rate that the table refused stays refused.
    return std::max(least, measured_mm_per_year);  // eq. 47
}

}  // namespace lagline
