#pragma once

#include <span>
#include <vector>

namespace lagline {

/// A probability that was stated, and whether it happened.
struct Forecast {
    double probability = 0.0;
    bool happened = false;
};

/// Two ends of an interval.
struct Interval {
    double low = 0.0;
    double high = 0.0;
};

/// Interval of a share of `count` by the score method (eq. 76).
/// @param count  at least 1
/// @param z      standard normal quantile: 1.645 for 90 %, 1.96 for 95 %
/// @source Wilson 1927, Journal of the American Statistical Association 22, 209-212
[[nodiscard]] Interval wilson_interval(std::size_t happened, std::size_t count, double z);

/// Forecasts of one band of probability.
struct CalibrationBand {
    double from = 0.0;
    double to = 0.0;  ///< belongs to the next band, save in the last
    std::size_t count = 0;
    std::size_t happened = 0;
    double predicted = 0.0;  ///< mean of the forecasts
    Interval interval;       ///< of the share that happened, 90 %
    [[nodiscard]] double observed() const {
        return count == 0 ? 0.0 : static_cast<double>(happened) / static_cast<double>(count);
    }
};

/// Brier score and its parts (eq. 74 and 75).
struct BrierScore {
    double score = 0.0;        ///< mean of (probability - happened)^2: 0 is perfect
    double reliability = 0.0;  ///< how far the bands' forecasts are from what happened
    double resolution = 0.0;   ///< how far what happened in the bands is from the mean
    double uncertainty = 0.0;  ///< score of always stating the mean
    double within = 0.0;       ///< what the bands hide: score less the other three
    /// Part of the uncertainty that the forecasts take away; negative when they do harm.
    [[nodiscard]] double skill() const {
        return uncertainty == 0.0 ? 0.0 : 1.0 - score / uncertainty;
    }
};

/// The bands of the calibration table, empty ones left out.
[[nodiscard]] std::vector<CalibrationBand> calibration(std::span<const Forecast> forecasts);

/// Brier score of `forecasts`, with reliability, resolution and uncertainty by `bands`.
/// @source Brier 1950, Monthly Weather Review 78, 1-3; Murphy 1973, Journal of Applied
///         Meteorology 12, 595-600
[[nodiscard]] BrierScore brier_score(std::span<const Forecast> forecasts,
                                     std::span<const CalibrationBand> bands);

}  // namespace lagline
