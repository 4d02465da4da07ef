#pragma once

#include <span>

namespace lagline {

/// A logarithmic axis of a plot, whole decades from 10^first to 10^last.
struct LogAxis {
    int first = 0;
    int last = 1;
    double begin_px = 0.0;  ///< where 10^first stands
    double end_px = 1.0;

    /// Where `value` stands; what lies outside stands at the nearer end, and so does 0.
    [[nodiscard]] double at(double value) const;
    [[nodiscard]] double from() const;
    [[nodiscard]] double to() const;
    /// Pixels a decade; negative when the axis runs up the page.
    [[nodiscard]] double decade_px() const { return (end_px - begin_px) / (last - first); }
};

/// Decades that hold `limits` with one decade to spare on either side, and `values`, but not more
/// than `most` of them: the lowest are cut off.  Values that are not above 0 do not count.
void choose_decades(LogAxis& axis, std::span<const double> limits, std::span<const double> values,
                    int most);

}  // namespace lagline
