#include "report/forecast_svg.h"

#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/layout.h"
#include "report/own_output.h"
#include "report/svg_writer.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t most_told_apart = 8;
constexpr double width = 960.0;
constexpr double left = 84.0;
constexpr double right = 150.0;  // names of the curves stand here
constexpr double top = 92.0;
constexpr double panel = 340.0;
constexpr double between = 70.0;
constexpr double below = 92.0;
constexpr std::string_view grid = " stroke=\"#ddd\"";
constexpr std::string_view limit = " stroke=\"#222\" stroke-width=\"1.5\" stroke-dasharray=\"7 4\"";
constexpr std::array<std::string_view, 4> dashes{"", "8 3", "3 3", "10 3 2 3"};

// Told apart by people of every colour vision: Okabe & Ito (2008), Color universal design; their
// yellow is darkened to be seen on white.
constexpr std::array<std::string_view, most_told_apart> colours{
    "#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9", "#a08a00", "#000000"};

constexpr std::string_view style =
    "<style>text{font:12px sans-serif;fill:#222}.small{font-size:11px;fill:#555}"
    ".title{font-size:18px;font-weight:bold}.bold{font-weight:bold}.middle{text-anchor:middle}"
    ".end{text-anchor:end}</style>\n";

/// One plot over the dates of the forecast.
class Panel {
  public:
    Panel(SvgWriter& svg, const Forecast& ahead, double from_top, double least, double most)
        : svg_(svg), ahead_(ahead), from_top_(from_top), least_(least), most_(most) {}

    void date_axis() {
        const int years = static_cast<int>(ahead_.dates.size()) - 1;
        const int step = years > 40 ? 10 : years > 12 ? 5 : 1;
        for (int year = 0; year <= years; year += step) {
            const double x = x_of(ahead_.dates[static_cast<std::size_t>(year)]);
            svg_.line(x, from_top_, x, from_top_ + panel, grid);
            svg_.text(x, from_top_ + panel + 18.0,
                      std::to_string(year_of(ahead_.dates[static_cast<std::size_t>(year)])),
                      " class=\"middle\"");
        }
    }

    void mark(double value, std::string_view text) {
        svg_.line(left, y_of(value), width - right, y_of(value), grid);
        svg_.text(left - 8.0, y_of(value) + 4.0, text, " class=\"end\"");
    }

    void limit_line(double value, std::string_view text) {
        if (value < least_ || value > most_) return;
        svg_.line(left, y_of(value), width - right, y_of(value), limit);
        svg_.text(left + 6.0, y_of(value) - 5.0, text, " class=\"small\"");
    }

    void curve(const std::vector<double>& values, const std::string& stroke) {
        std::vector<std::pair<double, double>> points;
        for (std::size_t i = 0; i < values.size(); ++i) {
            points.emplace_back(x_of(ahead_.dates[i]), y_of(values[i]));
        }
        svg_.polyline(points, stroke);
    }

    [[nodiscard]] double x_of(Date date) const {
        const double span = ahead_.dates.back().days - ahead_.dates.front().days;
        return left + (width - left - right) * (date.days - ahead_.dates.front().days) / span;
    }
    [[nodiscard]] double y_of(double value) const {
        const double share = (std::clamp(value, least_, most_) - least_) / (most_ - least_);
        return from_top_ + panel * (1.0 - share);
    }

  private:
    SvgWriter& svg_;
    const Forecast& ahead_;
    double from_top_;
    double least_;
    double most_;
};

class Picture {
  public:
    Picture(const Plant& plant, const RuleSet& rules, const Forecast& ahead)
        : plant_(plant),
          rules_(rules),
          ahead_(ahead),
          walls_(ahead.curves.size() == 1 && ahead.curves.front().loses_wall),
          height_(top + panel + (walls_ ? between + panel : 0.0) + below) {}

    std::string draw() {
        head();
        probability();
        if (walls_) wall();
        foot();
        svg_.raw("</svg>\n");
        return svg_.take();
    }

  private:
    void head() {
        svg_.raw("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + pixels(width) + " " +
                 pixels(height_) + "\" width=\"" + pixels(width) + "\" height=\"" +
                 pixels(height_) + "\" role=\"img\">\n" + std::string{svg_mark} +
                 "<title>Years ahead: " + xml_text(plant_.description.name) + "</title>\n");
        svg_.raw(style);
        svg_.rectangle(0, 0, width, height_, " fill=\"#fff\"");
        svg_.text(left, 30.0, plant_.description.name, " class=\"title\"");
        svg_.text(left, 52.0,
                  "If nothing is done from " + to_string(ahead_.dates.front()) + " on; rules " +
                      layers_text(rules_.layers) + ".");
        svg_.text(left, 70.0,
                  "Due by " + describe(ahead_.criteria, plant_.description.currency) + ".");
    }

    [[nodiscard]] std::vector<double> logs(const ForecastCurve& curve) const {
        std::vector<double> values;
        for (const ForecastPoint& point : curve.points) {
            values.push_back(std::log10(std::max(point.probability_per_year, 1e-12)));
        }
        return values;
    }

    void probability() {
        constexpr double least_decade = -7.0;
        Panel plot{svg_, ahead_, top, least_decade, 0.0};
        plot.date_axis();
        for (int decade = static_cast<int>(least_decade); decade <= 0; ++decade) {
            plot.mark(decade, decade == 0 ? "1" : "1e" + std::to_string(decade));
        }
        if (ahead_.criteria.probability_per_year) {
            plot.limit_line(
                std::log10(*ahead_.criteria.probability_per_year),
                "criterion " + short_number(*ahead_.criteria.probability_per_year, 3) + " a year");
        }
        text_upwards(top + panel / 2.0, "probability of a leak in a year");
        draw_curves(plot);
    }

    void draw_curves(Panel& plot) {
        std::vector<std::pair<double, std::size_t>> ends;
        for (std::size_t i = 0; i < ahead_.curves.size(); ++i) {
            const auto values = logs(ahead_.curves[i]);
            plot.curve(values, stroke_of(i));
            if (told_apart()) ends.emplace_back(plot.y_of(values.back()), i);
            mark_due(plot, ahead_.curves[i], values, i);
        }
        name_ends(ends);
    }

    // Where the first criterion is reached, on the curve.
    void mark_due(const Panel& plot, const ForecastCurve& curve, const std::vector<double>& values,
                  std::size_t i) {
        const auto day = curve.due.date();
        if (!day || !told_apart()) return;
        std::size_t next = 1;
        while (next + 1 < ahead_.dates.size() && ahead_.dates[next] < *day) ++next;
        const double span = ahead_.dates[next].days - ahead_.dates[next - 1].days;
        const double share = (day->days - ahead_.dates[next - 1].days) / span;
        const double value = values[next - 1] + share * (values[next] - values[next - 1]);
        svg_.circle(plot.x_of(*day), plot.y_of(value), 5.0,
                    " fill=\"#fff\" stroke-width=\"2\" stroke=\"" + colour_of(i) + "\"");
    }

    // Names at the ends of the curves, moved apart where they would cover each other.
    void name_ends(std::vector<std::pair<double, std::size_t>>& ends) {
        constexpr double line_height = 15.0;
        std::ranges::sort(ends);
        double free_from = top;
        for (auto& [y, i] : ends) {
            y = std::max(y, free_from);
            free_from = y + line_height;
            svg_.text(
                width - right + 8.0, y + 4.0,
                printable(plant_.segments.texts(S::segment)[ahead_.curves[i].segment_row], 18),
                " class=\"bold\" style=\"fill:" + colour_of(i) + "\"");
        }
    }

    void wall() {
        const ForecastCurve& curve = ahead_.curves.front();
        std::vector<double> walls;
        for (const ForecastPoint& point : curve.points) walls.push_back(point.expected_wall_mm);
        const double most =
            std::ceil(std::max(*std::ranges::max_element(walls), curve.minimum_thickness_mm) + 0.5);
        const double from_top = top + panel + between;
        Panel plot{svg_, ahead_, from_top, 0.0, most};
        plot.date_axis();
        const int step = most > 10.0 ? 5 : 1;
        for (int mm = 0; mm <= static_cast<int>(most); mm += step)
            plot.mark(mm, std::to_string(mm));
        plot.limit_line(curve.minimum_thickness_mm,
                        "minimum thickness " + short_number(curve.minimum_thickness_mm, 3) + " mm");
        text_upwards(from_top + panel / 2.0, "expected wall, mm");
        plot.curve(walls, stroke_of(0));
    }

    void foot() {
        double y = height_ - below + 48.0;
        if (told_apart()) {
            svg_.text(left, y, "o  the day on which the first criterion is reached",
                      " class=\"small\"");
            y += 16.0;
        }
        const std::string caution{screening_caution};
        const std::size_t cut = caution.find(' ', caution.size() / 2);
        svg_.text(left, y, caution.substr(0, cut), " class=\"small\"");
        svg_.text(left, y + 14.0, caution.substr(std::min(caution.size(), cut + 1)),
                  " class=\"small\"");
    }

    [[nodiscard]] bool told_apart() const { return ahead_.curves.size() <= most_told_apart; }
    static std::string colour_of(std::size_t i) { return std::string{colours[i % colours.size()]}; }
    [[nodiscard]] std::string stroke_of(std::size_t i) const {
        if (!told_apart()) return " fill=\"none\" stroke=\"#0072b2\" stroke-width=\"0.8\"";
        const std::string_view dash = dashes[i % dashes.size()];
        return " fill=\"none\" stroke-width=\"2.2\" stroke=\"" + colour_of(i) + "\"" +
               (dash.empty() ? "" : " stroke-dasharray=\"" + std::string{dash} + "\"");
    }

    void text_upwards(double y, std::string_view text) {
        svg_.raw("<text class=\"middle\" transform=\"translate(24 " + pixels(y) +
                 ") rotate(-90)\">" + xml_text(text) + "</text>\n");
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Forecast& ahead_;
    bool walls_;
    double height_;
    SvgWriter svg_;
};

}  // namespace

std::string forecast_svg(const Plant& plant, const RuleSet& rules, const Forecast& ahead) {
    return Picture{plant, rules, ahead}.draw();
}

}  // namespace lagline
