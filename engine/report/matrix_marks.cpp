#include "report/matrix_marks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include "report/svg_writer.h"

namespace lagline {
namespace {

constexpr double square_px = 8.0;

// Okabe and Ito's sky blue, blue and orange, and a dark red-purple: apart in lightness too.
constexpr std::array<BandLook, 4> looks{BandLook{"#56b4e9", 0}, BandLook{"#0072b2", 1},
                                        BandLook{"#e69f00", 2}, BandLook{"#882255", 3}};

PlotMark mark_of(const Ranking& ranking, std::uint32_t row, const LogAxis& cost,
                 const LogAxis& probability) {
    const auto at = static_cast<Eigen::Index>(row);
    return {cost.at(ranking.consequence.leak_cost[at]),
            probability.at(ranking.likelihood.probability_of_failure_per_year[at]),
            ranking.risk.risk_category[at], 1, row};
}

std::vector<PlotMark> in_squares(const std::vector<PlotMark>& singles) {
    const auto square_of = [](double px) { return static_cast<int>(std::floor(px / square_px)); };
    // The greatest risk comes first and stays the one that is named.
    std::map<std::tuple<std::uint8_t, int, int>, PlotMark> squares;
    for (const PlotMark& single : singles) {
        const int x = square_of(single.x_px);
        const int y = square_of(single.y_px);
        const auto [found, fresh] = squares.try_emplace({single.band, y, x}, single);
        if (!fresh) ++found->second.count;
        found->second.x_px = (x + 0.5) * square_px;
        found->second.y_px = (y + 0.5) * square_px;
    }
    std::vector<PlotMark> marks;
    for (const auto& [key, mark] : squares) marks.push_back(mark);
    return marks;
}

}  // namespace

std::vector<PlotMark> plot_marks(const Ranking& ranking, const LogAxis& cost,
                                 const LogAxis& probability) {
    std::vector<PlotMark> marks;
    for (const std::uint32_t row : ranking.order) {
        marks.push_back(mark_of(ranking, row, cost, probability));
    }
    if (marks.size() > most_single_marks) return in_squares(marks);
    std::ranges::reverse(marks);
    std::ranges::stable_sort(marks, {}, &PlotMark::band);
    return marks;
}

BandLook look_of_band(std::size_t band, std::size_t bands) {
    const std::size_t from_top = bands - 1 - band;
    return looks[looks.size() - 1 - std::min(from_top, looks.size() - 1)];
}

double mark_radius(std::size_t count, bool in_squares) {
    return in_squares ? 1.6 + 0.9 * std::log10(static_cast<double>(count)) : 3.6;
}

std::string mark_outline(int shape, double x_px, double y_px, double radius_px) {
    const auto point = [](double x, double y) { return pixels(x) + " " + pixels(y); };
    if (shape == 0) {
        return "<circle cx=\"" + pixels(x_px) + "\" cy=\"" + pixels(y_px) + "\" r=\"" +
               pixels(radius_px) + "\"";
    }
    if (shape == 1) {
        const double half = 0.9 * radius_px;
        return "<rect x=\"" + pixels(x_px - half) + "\" y=\"" + pixels(y_px - half) +
               "\" width=\"" + pixels(2 * half) + "\" height=\"" + pixels(2 * half) + "\"";
    }
    if (shape == 2) {
        const double tip = 1.3 * radius_px;
        return "<path d=\"M" + point(x_px, y_px - tip) + "L" +
               point(x_px + 1.1 * radius_px, y_px + 0.7 * radius_px) + "L" +
               point(x_px - 1.1 * radius_px, y_px + 0.7 * radius_px) + "Z\"";
    }
    const double tip = 1.35 * radius_px;
    return "<path d=\"M" + point(x_px, y_px - tip) + "L" + point(x_px + tip, y_px) + "L" +
           point(x_px, y_px + tip) + "L" + point(x_px - tip, y_px) + "Z\"";
}

}  // namespace lagline
