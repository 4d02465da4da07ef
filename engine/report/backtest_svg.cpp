#include <array>
#include <string_view>

#include "blocks/number_text.h"
#include "report/backtest_data.h"
#include "report/backtest_text.h"
#include "report/own_output.h"
#include "report/svg_writer.h"

namespace lagline {
namespace {

constexpr double side = 360.0;  // of a panel
constexpr double margin = 60.0;
constexpr double panel_step = side + 90.0;
constexpr double top = 70.0;

/// A square panel with both axes from 0 to 1.
class Panel {
  public:
    Panel(double left, std::string& svg) : left_(left), svg_(svg) {}

    [[nodiscard]] std::string at(double x, double y) const {
        return pixels(left_ + x * side) + "," + pixels(top + (1.0 - y) * side);
    }

    void frame(std::string_view title, std::string_view below, std::string_view beside) {
        svg_ += "<rect x=\"" + pixels(left_) + "\" y=\"" + pixels(top) + "\" width=\"" +
                pixels(side) + "\" height=\"" + pixels(side) +
                "\" fill=\"none\" stroke=\"#444\"/>\n";
        text(left_, top - 14.0, "start", title);
        text(left_ + side / 2.0, top + side + 38.0, "middle", below);
        svg_ += "<text text-anchor=\"middle\" transform=\"translate(" + pixels(left_ - 42.0) + "," +
                pixels(top + side / 2.0) + ") rotate(-90)\">" + xml_text(beside) + "</text>\n";
        for (const double tick : {0.0, 0.25, 0.5, 0.75, 1.0}) {
            const std::string label = short_number(100.0 * tick, 3) + " %";
            text(left_ + tick * side, top + side + 18.0, "middle", label);
            text(left_ - 6.0, top + (1.0 - tick) * side + 4.0, "end", label);
        }
        line("#999", "2 4", {{{0.0, 0.0}, {1.0, 1.0}}});
    }

    void line(std::string_view colour, std::string_view dashes,
              const std::vector<GainPoint>& points, double width = 1.0) {
        svg_ += "<polyline fill=\"none\" stroke=\"" + std::string{colour} + "\" stroke-width=\"" +
                pixels(width) + "\"";
        if (!dashes.empty()) svg_ += " stroke-dasharray=\"" + std::string{dashes} + "\"";
        svg_ += " points=\"";
        for (const GainPoint& point : points) svg_ += at(point.opened, point.met) + " ";
        svg_.back() = '"';
        svg_ += "/>\n";
    }

    void dot(double x, double y) {
        svg_ += "<circle cx=\"" + pixels(left_ + x * side) + "\" cy=\"" +
                pixels(top + (1.0 - y) * side) + "\" r=\"4\" fill=\"#0b5fa5\"/>\n";
    }

    void text(double x, double y, std::string_view anchor, std::string_view words) {
        svg_ += "<text x=\"" + pixels(x) + "\" y=\"" + pixels(y) + "\" text-anchor=\"" +
                std::string{anchor} + "\">" + xml_text(words) + "</text>\n";
    }

  private:
    double left_;
    std::string& svg_;
};

// Colours that colour-blind readers tell apart, and dashes for those without colour.
struct CurveStyle {
    OpeningOrder order;
    std::string_view colour;
    std::string_view dashes;
    std::string_view label;
};

void gain_panel(const Backtest& test, std::string& svg) {
    Panel panel{margin, svg};
    panel.frame("Findings met by segments opened", "segments opened", "findings met");
    const std::array styles{
        CurveStyle{OpeningOrder::temperature, "#8a5a00", "2 3", "temperature band"},
        CurveStyle{OpeningOrder::age, "#c2185b", "8 4", "age"},
        CurveStyle{plotted_order(test), "#0b5fa5", "", "Lagline"}};
    double y = top + side - 62.0;
    for (const CurveStyle& style : styles) {
        const OrderGain& gain = test.gains[static_cast<std::size_t>(style.order)];
        if (gain.curve.empty()) continue;
        panel.line(style.colour, style.dashes, gain.curve, 2.0);
        const double from = 0.38;
        const double height = 1.0 - (y - 4.0 - top) / side;
        panel.line(style.colour, style.dashes, {{from, height}, {from + 0.1, height}}, 2.0);
        panel.text(margin + (from + 0.12) * side, y, "start",
                   std::string{style.label} + ", area " + short_number(gain.area, 3));
        y += 18.0;
    }
    panel.text(margin + 0.5 * side, y, "start", "dotted: at random, 0.5");
}

void calibration_panel(const Backtest& test, std::string& svg) {
    Panel panel{margin + panel_step, svg};
    panel.frame("Chance of a finding, stated and found", "chance stated", "share found");
    for (const CalibrationBand& band : test.bands) {
        panel.line("#0b5fa5", "",
                   {{band.predicted, band.interval.low}, {band.predicted, band.interval.high}});
        panel.dot(band.predicted, band.observed());
    }
    panel.text(margin + panel_step + 8.0, top + 18.0, "start",
               "bars: 90 % interval; Brier score " + short_number(test.brier.score, 3));
}

}  // namespace

std::string backtest_svg(const Plant& plant, const Backtest& test) {
    const bool calibrated = !test.bands.empty();
    const double width = margin + side + 30.0 + (calibrated ? panel_step : 0.0);
    const double height = top + side + 60.0;
    std::string svg =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + pixels(width) + "\" height=\"" +
        pixels(height) + "\" viewBox=\"0 0 " + pixels(width) + " " + pixels(height) +
        "\" font-family=\"sans-serif\" font-size=\"12\" role=\"img\">\n" + std::string{svg_mark};
    const std::string title = xml_text(plant.description.name) +
                              ": rankings of the past against what inspections found in the " +
                              std::to_string(test.within_years) + " years after";
    svg += "<title>" + title + "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n";
    svg += "<text x=\"" + pixels(margin) + "\" y=\"26\" font-size=\"15\">" + title + "</text>\n";
    gain_panel(test, svg);
    if (calibrated) calibration_panel(test, svg);
    return svg + "</svg>\n";
}

}  // namespace lagline
