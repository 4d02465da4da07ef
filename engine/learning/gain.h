#pragma once

#include <span>
#include <vector>

namespace lagline {

/// One segment that was looked at.
struct Looked {
    double score = 0.0;  ///< the greater, the sooner it is opened
    bool found = false;
};

/// A corner of a gain curve.
struct GainPoint {
    double opened = 0.0;  ///< share of the segments looked at
    double met = 0.0;     ///< share of the findings expected among them
};

/// Findings met against segments opened, the greatest score first (eq. 71).  Segments of one score
/// are one straight piece: what a random order among them meets on average, whatever the order of
/// `cases`.  Starts at (0, 0), ends at (1, 1); empty when nothing was found.
[[nodiscard]] std::vector<GainPoint> gain_curve(std::vector<Looked> cases);

/// Area under a gain curve (eq. 72): 0.5 for opening at random.
[[nodiscard]] double area_under(std::span<const GainPoint> curve);

/// The area when every finding is met first: 1 - share of the segments with findings / 2.
[[nodiscard]] double best_area(double found_share);

/// Share of the findings met when `opened` of the segments are.
[[nodiscard]] double met_at(std::span<const GainPoint> curve, double opened);

}  // namespace lagline
