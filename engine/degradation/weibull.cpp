#include "degradation/weibull.h"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

namespace lagline {
namespace {

// From this shape on the spread of the life is below a thousandth of it: one life for all, and the
// incomplete gamma function would be asked for what it cannot resolve.
constexpr double certain_shape = 1e4;

// A coating of which nothing survives to the age where it was seen sound: the model is refuted, and
// the least that can be said is that it breaks down from then on.
constexpr double least_survival = 1e-12;

// Beyond these a hazard leaves 1 - exp(-hazard) what it is: 0 and 1 to the last digit.
constexpr double least_hazard = 1e-17;
constexpr double most_hazard = 745.0;

// Doubles are good for a relative error of some 1e-15 here, far below what any life is known to;
// the longer numbers that are used otherwise take four times as long.
using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double hazard(const Weibull& life, double age_years) {
    return std::pow(age_years / life.scale_years, life.shape);
}

double lower_gamma(double a, double x) {
    return x > most_hazard ? std::tgamma(a) : boost::math::tgamma_lower(a, x, InDoubles{});
}

// Integral of P(T <= u) over u from 0 to t: by parts t F(t) - scale x gamma(1 + 1/shape, hazard),
// which keeps its digits while hardly anything has broken down; t - sound_time(t) would not.
double broken_time(const Weibull& life, double age_years) {
    if (age_years <= 0.0) return 0.0;
    return age_years * life.broken_by(age_years) -
           life.scale_years * lower_gamma(1.0 + 1.0 / life.shape, hazard(life, age_years));
}

// Integral of P(T <= u | T > after) over u from start to end, after <= start <= end.
double broken_time_after(const Weibull& life, double after_years, double start, double end) {
    if (life.shape >= certain_shape) {
        return (end - start) - (life.sound_time(end) - life.sound_time(start));
    }
    const double x = hazard(life, after_years);
    if (x <= 1.0) {
        const double more = broken_time(life, end) - broken_time(life, start) -
                            life.broken_by(after_years) * (end - start);
        return more * std::exp(x);
    }
    // Little is left of the coatings: their own share is the small number to keep digits of.
    const double a = 1.0 / life.shape;
    const auto upper = [&](double age) {
        const double at = hazard(life, age);
        return at > most_hazard ? 0.0 : boost::math::tgamma(a, at, InDoubles{});
    };
    const double sound = life.scale_years * a * std::exp(x) * (upper(start) - upper(end));
    return (end - start) - sound;
}

}  // namespace

double Weibull::broken_by(double age_years) const {
    if (age_years <= 0.0) return scale_years > 0.0 ? 0.0 : 1.0;
    if (scale_years <= 0.0) return 1.0;
    if (shape >= certain_shape) return age_years > scale_years ? 1.0 : 0.0;
    return -std::expm1(-hazard(*this, age_years));  // eq. 34
}

double Weibull::sound_time(double age_years) const {
    if (age_years <= 0.0 || scale_years <= 0.0) return 0.0;
    if (shape >= certain_shape) return std::min(age_years, scale_years);
    const double a = 1.0 / shape;
    const double x = hazard(*this, age_years);
    if (x < least_hazard) return age_years;
    return scale_years * a * lower_gamma(a, x);  // eq. 35
}

double unprotected_time(const Weibull& life, const BreakdownKnown& known, double from_years,
                        double to_years) {
    // Up to the age where it was seen sound the coating protected; from the age where it was seen
    // broken down it does not.
    const bool broken = known.before_years >= 0.0;
    const double start = std::max(from_years, known.after_years);
    if (to_years <= start) return 0.0;
    const double end = broken ? std::clamp(known.before_years, start, to_years) : to_years;
    const double certain = to_years - end;
    if (end <= start) return certain;
    const double sound_at_after = 1.0 - life.broken_by(known.after_years);
    if (sound_at_after < least_survival) return certain + (end - start);
    // P(T <= before | T > after)
    double weight = 1.0;
    if (broken && life.shape >= certain_shape) {
        weight = life.broken_by(known.before_years);
    } else if (broken) {
        weight = -std::expm1(hazard(life, known.after_years) - hazard(life, known.before_years));
    }
    if (weight * sound_at_after < least_survival) return certain + (end - start);
    const double missed = broken_time_after(life, known.after_years, start, end) / weight;
    return certain + std::clamp(missed, 0.0, end - start);  // eq. 36
}

}  // namespace lagline
