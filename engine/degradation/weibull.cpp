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

}  // namespace

double Weibull::broken_by(double age_years) const {
    if (age_years <= 0.0) return scale_years > 0.0 ? 0.0 : 1.0;
    if (scale_years <= 0.0) return 1.0;
    if (shape >= certain_shape) return age_years > scale_years ? 1.0 : 0.0;
    return -std::expm1(-std::pow(age_years / scale_years, shape));  // eq. 34
}

double Weibull::sound_time(double age_years) const {
    if (age_years <= 0.0 || scale_years <= 0.0) return 0.0;
    if (shape >= certain_shape) return std::min(age_years, scale_years);
    const double a = 1.0 / shape;
    const double x = std::pow(age_years / scale_years, shape);
    return scale_years * a * boost::math::tgamma_lower(a, x);  // eq. 35
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
    const double sound_at_after = 1.0 - life.broken_by(known.after_years);
    const double weight = broken ? life.broken_by(std::max(known.before_years, known.after_years)) -
                                       life.broken_by(known.after_years)
                                 : sound_at_after;
    if (end <= start) return certain;
    if (weight < least_survival) return certain + (end - start);
    // P(T <= t | known) = (S(after) - S(t)) / weight
    const double missed =
        (sound_at_after * (end - start) - (life.sound_time(end) - life.sound_time(start))) / weight;
    return certain + std::clamp(missed, 0.0, end - start);  // eq. 36
}

}  // namespace lagline
