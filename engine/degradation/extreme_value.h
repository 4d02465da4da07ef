#pragma once

namespace lagline {

/// Gumbel distribution of the largest loss in an area (eq. 44):
/// P(X <= x) = exp(-exp(-(x - location) / scale)).
/// @source Kowaka et al., Introduction to Life Prediction of Industrial Plant Materials:
/// Application
///         of the Extreme Value Statistical Method for Corrosion Analysis (recalled)
struct Gumbel {
    double location = 0.0;  ///< the most frequent value, in the unit of X
    double scale = 1.0;     ///< > 0, in the unit of X

    /// The distribution of a mean and a standard deviation > 0.
    [[nodiscard]] static Gumbel of_moments(double mean, double deviation);

    /// P(X <= x).
    [[nodiscard]] double below(double x) const;
    /// x with P(X <= x) = probability, 0 < probability < 1.
    [[nodiscard]] double quantile(double probability) const;
    /// Value that one area in `period` exceeds, period > 1.
    [[nodiscard]] double return_level(double period) const;
    /// The largest of `areas` such areas, which need not be a whole number: P(X <= x)^areas, again
    /// a Gumbel distribution of the same scale (eq. 45).
    [[nodiscard]] Gumbel largest_of(double areas) const;
    [[nodiscard]] double mean() const;
    [[nodiscard]] double deviation() const;
};

/// How much greater the greatest loss of the whole surface is to be expected than the one found on
/// a share of it (eq. 45): the loss found is taken as the location of a Gumbel distribution for the
/// share seen, and the whole as 1/share such areas.  1 where all was seen.
/// @param share    of the surface that was seen, 0 < share <= 1
/// @param scatter  scale over location of the loss in the area seen, >= 0
/// @source HSE Research Report 016, section 4.1.1 and 5.3.3: extrapolation by the ratio of areas
[[nodiscard]] double surface_factor(double share, double scatter);

}  // namespace lagline
