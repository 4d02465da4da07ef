#pragma once

namespace lagline {

/// The time to breakdown of a coating: P(T > t) = exp(-(t/scale)^shape).
struct Weibull {
    double scale_years = 0.0;  ///< >= 0; 0 for no coating
    double shape = 1.0;        ///< > 0; the larger, the closer to one life for all

    /// P(T <= t) for an age t [y] (eq. 34).
    [[nodiscard]] double broken_by(double age_years) const;

    /// Integral of P(T > u) over u from 0 to t [y] (eq. 35):
    /// scale/shape x lower incomplete gamma(1/shape, (t/scale)^shape).
    [[nodiscard]] double sound_time(double age_years) const;
};

/// What inspections tell of the time of breakdown T.
struct BreakdownKnown {
    double after_years = 0.0;    ///< the coating was seen sound at this age: T > after
    double before_years = -1.0;  ///< it was seen broken down at this age: T <= before; < 0: never
};

/// Expected time without protection between two ages of a coating [y] (eq. 36): the integral of
/// P(T <= t | what is known) from `from` to `to`.
/// @param from_years  age at which the wall was last known, >= 0
/// @param to_years    age at the rank date, >= from
[[nodiscard]] double unprotected_time(const Weibull& life, const BreakdownKnown& known,
                                      double from_years, double to_years);

}  // namespace lagline
