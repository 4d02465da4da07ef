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

MeasuredRate rate_by_loss(const KnownWall& from, const KnownWall& to, const ExposedBetween& exposed,
                          double least_share, double explained_mm) {
    const double loss_mm = std::max(0.0, from.wall_mm - to.wall_mm);
    const double least_years = least_share * years_between(from.day, to.day);
    const double years = std::max(exposed(from.day, to.day), least_years);
    return {std::max(0.0, loss_mm - explained_mm) / years,
            (loss_mm + explained_mm) / years};  // eq. 46
}

KnownWall known(const Reading& reading) {
    return {reading.wall_mm, reading.day, static_cast<std::int32_t>(reading.row),
            reading.technique};
}

}  // namespace

WallLossRates wall_loss_rates(const Plant& plant, std::uint32_t segment,
                              std::span<const Reading> readings, double least_interval_years,
                              RateReadings which) {
    const auto makes_rate = [&](const Reading& reading) {
        return reading.counts && (which == RateReadings::all || reading.accepted);
    };
    WallLossRates rates;
    const Date service{plant.segments.days(S::in_service)[segment]};
    KnownWall initial{plant.segments.numbers(S::nominal_wall)[segment], service, History::nothing};
    const Reading* last = nullptr;
    for (const Reading& reading : readings) {
        if (!makes_rate(reading)) continue;
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
        if (makes_rate(reading) && reading.day > service && far_enough(reading.day)) {
            rates.previous = known(reading);
        }
    }
    rates.long_term_mm_per_year = rate_between(rates.initial, rates.actual);
    rates.short_term_mm_per_year = rate_between(rates.previous, rates.actual);
    return rates;
}

double WallTolerance::explained_mm(const KnownWall& from, const KnownWall& to) const {
    const double last_mm = reading->value(to.technique);
    if (from.reading == History::nothing) return mill_share * from.wall_mm + last_mm;
    return std::max(reading->value(from.technique), last_mm);
}

MeasuredRate measured_rate(const WallLossRates& rates, const ExposedBetween& exposed,
                           double least_share, const WallTolerance& tolerance) {
    if (!rates.known) return {};
    const auto by_loss = [&](const KnownWall& from) {
        return rate_by_loss(from, rates.actual, exposed, least_share,
                            tolerance.explained_mm(from, rates.actual));
    };
    MeasuredRate measured = by_loss(rates.initial);
    if (rates.previous.day == rates.initial.day) return measured;
    const MeasuredRate recent = by_loss(rates.previous);
    measured.least_mm_per_year = std::max(measured.least_mm_per_year, recent.least_mm_per_year);
    measured.greatest_mm_per_year =
        std::max(measured.least_mm_per_year,
                 std::min(measured.greatest_mm_per_year, recent.greatest_mm_per_year));
    return measured;
}

double used_rate_mm_per_year(double table_mm_per_year, const MeasuredRate& measured, bool accepted,
                             double floor) {
    double rate = table_mm_per_year;
    if (accepted) {
        rate = std::max(floor * rate, std::min(rate, measured.greatest_mm_per_year));
    }
    // In this order a rate that the table refused stays refused.
    return std::max(rate, measured.least_mm_per_year);  // eq. 47
}

}  // namespace lagline
