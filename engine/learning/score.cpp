#include "learning/score.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace lagline {
namespace {

constexpr double z_of_90_percent = 1.6448536269514722;

// Narrow where most forecasts lie: findings are rare.
constexpr std::array band_ends{0.01, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0};

double squared(double x) { return x * x; }

std::size_t band_of(double probability) {
    const auto* const end = std::ranges::upper_bound(band_ends, probability);
    const auto band = static_cast<std::size_t>(end - band_ends.begin());
    return std::min(band, band_ends.size() - 1);
}

}  // namespace

Interval wilson_interval(std::size_t happened, std::size_t count, double z) {
    const auto n = static_cast<double>(count);
    const double share = static_cast<double>(happened) / n;
    const double middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);  // eq. 76
    const double half =
        z / (1.0 + z * z / n) * std::sqrt(share * (1.0 - share) / n + z * z / (4.0 * n * n));
    return {std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

std::vector<CalibrationBand> calibration(std::span<const Forecast> forecasts) {
    std::array<CalibrationBand, band_ends.size()> bands;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        bands[i].from = i == 0 ? 0.0 : band_ends[i - 1];
        bands[i].to = band_ends[i];
    }
    for (const Forecast& each : forecasts) {
        CalibrationBand& band = bands[band_of(each.probability)];
        ++band.count;
        band.happened += each.happened ? 1U : 0U;
        band.predicted += each.probability;
    }
    std::vector<CalibrationBand> filled;
    for (CalibrationBand& band : bands) {
        if (band.count == 0) continue;
        band.predicted /= static_cast<double>(band.count);
        band.interval = wilson_interval(band.happened, band.count, z_of_90_percent);
        filled.push_back(band);
    }
    return filled;
}

BrierScore brier_score(std::span<const Forecast> forecasts,
                       std::span<const CalibrationBand> bands) {
    BrierScore brier;
    if (forecasts.empty()) return brier;
    const auto all = static_cast<double>(forecasts.size());
    double happened = 0.0;
    for (const Forecast& each : forecasts) {
        const double was = each.happened ? 1.0 : 0.0;
        brier.score += squared(each.probability - was) / all;  // eq. 74
        happened += was;
    }
    const double mean = happened / all;
    for (const CalibrationBand& band : bands) {  // eq. 75
        const double share = static_cast<double>(band.count) / all;
        brier.reliability += share * squared(band.predicted - band.observed());
        brier.resolution += share * squared(band.observed() - mean);
    }
    brier.uncertainty = mean * (1.0 - mean);
    brier.within = brier.score - (brier.reliability - brier.resolution + brier.uncertainty);
    return brier;
}

}  // namespace lagline
