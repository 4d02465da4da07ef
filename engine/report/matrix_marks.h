#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ranking/ranking.h"
#include "report/log_axis.h"

namespace lagline {

/// Where the segments of a risk plot stand.
struct PlotMark {
    double x_px = 0.0;
    double y_px = 0.0;
    std::uint8_t band = 0;    ///< code of `risk_category`
    std::size_t count = 1;    ///< segments it stands for
    std::uint32_t worst = 0;  ///< row of the ranking of the greatest risk among them
};

/// Up to this many segments have a mark each; more are counted in squares of the plot.
inline constexpr std::size_t most_single_marks = 2000;

/// One mark a segment, or, for many segments, one for all of a band in a square; the lower bands
/// first, and within a band the lesser risks, so that the worst are drawn on top.
[[nodiscard]] std::vector<PlotMark> plot_marks(const Ranking& ranking, const LogAxis& cost,
                                               const LogAxis& probability);

/// Look of a risk band: the four highest differ in shape and colour, all others look as the lowest.
struct BandLook {
    std::string_view colour;
    int shape = 0;  ///< circle, square, triangle, diamond
};
[[nodiscard]] BandLook look_of_band(std::size_t band, std::size_t bands);

/// Outline of a mark as SVG, open for a title: "<circle ... " without its end.
[[nodiscard]] std::string mark_outline(int shape, double x_px, double y_px, double radius_px);

/// Radius of a mark that stands for `count` segments, so that squares full of marks stay apart.
[[nodiscard]] double mark_radius(std::size_t count, bool in_squares);

}  // namespace lagline
