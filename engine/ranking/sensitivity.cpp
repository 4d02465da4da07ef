#include "ranking/sensitivity.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace lagline {

std::uint32_t FirstOrderIndex::classes_for(std::size_t samples) {
    const auto root = static_cast<std::uint32_t>(std::sqrt(static_cast<double>(samples)));
    return std::clamp(std::bit_floor(root), 1U, 64U);
}

double FirstOrderIndex::operator()(std::span<const std::uint8_t> classes,
                                   std::span<const double> output) {
    std::ranges::fill(sums_, 0.0);
    std::ranges::fill(counts_, 0U);
    const auto samples = static_cast<double>(output.size());
    double mean = 0.0;
    for (const double y : output) mean += y;
    mean /= samples;
    double whole = 0.0;
    for (std::size_t i = 0; i < output.size(); ++i) {
        const double off = output[i] - mean;
        whole += off * off;
        sums_[classes[i]] += off;
        ++counts_[classes[i]];
    }
    double between = 0.0;
    double filled = 0.0;
    for (std::size_t c = 0; c < most_classes; ++c) {
        if (counts_[c] == 0) continue;
        between += sums_[c] * sums_[c] / counts_[c];
        filled += 1.0;
    }
    if (!(whole > 0.0) || filled < 2.0 || filled >= samples) return 0.0;
    const double within = std::max(0.0, whole - between) / (samples - filled);
    return std::clamp((between - (filled - 1.0) * within) / whole, 0.0, 1.0);  // eq. 65
}

}  // namespace lagline
