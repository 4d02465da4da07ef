#include "report/matrix_svg.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "blocks/number_text.h"
#include "report/cautions.h"
#include "report/layout.h"
#include "report/matrix_marks.h"
#include "report/matrix_text.h"
#include "report/own_output.h"
#include "report/svg_writer.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double width_px = 1200;
constexpr double left_px = 92;
constexpr double right_px = 892;
constexpr double top_px = 112;
constexpr double bottom_px = 702;
constexpr double legend_px = 944;
constexpr double notes_px = 776;
constexpr double note_line_px = 18;
constexpr std::size_t note_width = 150;  // characters
constexpr int most_decades = 9;

constexpr std::string_view style =
    "<style>text{font:13px sans-serif;fill:#222}.small{font-size:11px;fill:#555}"
    ".title{font-size:19px;font-weight:bold}.bold{font-weight:bold}.middle{text-anchor:middle}"
    ".end{text-anchor:end}.halo{paint-order:stroke;stroke:#fff;stroke-width:4px;"
    "stroke-linejoin:round}</style>\n";

constexpr std::string_view limit_line = " stroke=\"#777\"";
constexpr std::string_view iso_line =
    " stroke=\"#444\" stroke-width=\"0.8\" "
    "stroke-dasharray=\"2 4\"";
constexpr std::string_view criterion_line = " stroke=\"#000\" stroke-width=\"3\"";
constexpr std::string_view probability_line =
    " stroke=\"#000\" stroke-width=\"2\" "
    "stroke-dasharray=\"10 5\"";

class RiskPlot {
  public:
    RiskPlot(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
             const RiskMatrix& matrix)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          matrix_(matrix),
          bands_(rules.vocabulary("risk_category")) {
        choose_axes();
    }

    std::string draw() {
        const auto marks = plot_marks(ranking_, cost_, probability_);
        const auto notes = note_lines(marks);
        head(notes.size());
        cells();
        axes();
        draw_marks(marks);
        iso_lines();
        cell_words();
        criteria();
        legend(marks);
        for (std::size_t i = 0; i < notes.size(); ++i) {
            svg_.text(left_px, notes_px + note_line_px * static_cast<double>(i), notes[i]);
        }
        svg_.raw("</svg>\n");
        return svg_.take();
    }

  private:
    void choose_axes() {
        std::vector<double> costs;
        std::vector<double> probabilities;
        for (const std::uint32_t row : ranking_.order) {
            const auto at = static_cast<Eigen::Index>(row);
            costs.push_back(ranking_.consequence.leak_cost[at]);
            probabilities.push_back(ranking_.likelihood.probability_of_failure_per_year[at]);
        }
        const auto ends = [](const std::vector<AxisRange>& ranges) {
            std::vector<double> limits;
            for (const AxisRange& range : ranges) limits.push_back(range.to);
            return limits;
        };
        cost_ = {.begin_px = left_px, .end_px = right_px};
        choose_decades(cost_, ends(matrix_.costs), costs, most_decades);
        probability_ = {.begin_px = bottom_px, .end_px = top_px};
        choose_decades(probability_, ends(matrix_.probabilities), probabilities, most_decades);
        probability_.last = std::max(probability_.first + 1, std::min(probability_.last, 0));
    }

    [[nodiscard]] std::string money(double amount) const {
        return compact(amount) + " " + plant_.description.currency;
    }

    void head(std::size_t notes) {
        const double height = notes_px + note_line_px * static_cast<double>(notes) + 12;
        const std::string size = pixels(width_px) + "\" height=\"" + pixels(height);
        svg_.raw("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + pixels(width_px) +
                 " " + pixels(height) + "\" width=\"" + size + "\" role=\"img\">\n");
        svg_.raw(svg_mark);
        svg_.raw("<title>Risk of leaks: " + xml_text(plant_.description.name) + "</title>\n");
        svg_.raw(style);
        svg_.rectangle(0, 0, width_px, height, " fill=\"#fff\"");
        svg_.text(left_px, 34, plant_.description.name, " class=\"title\"");
        svg_.text(left_px, 58,
                  "Risk of leaks at " + to_string(ranking_.at.date) + " (" + ranking_.at.reason +
                      ") by rules " + layers_text(rules_.layers) + "; " +
                      counted(ranking_.order.size(), "segment") + " ranked, " +
                      std::to_string(ranking_.not_ranked.size()) + " not ranked");
    }

    // Cells as tinted fields, and the names of the categories.
    void cells() {
        for (const MatrixCell& cell : matrix_.cells) {
            const AxisRange& costs = matrix_.costs[cell.consequence];
            const AxisRange& probabilities = matrix_.probabilities[cell.probability];
            if (costs.from > costs.to || probabilities.from > probabilities.to) continue;
            const double x1 = cost_.at(costs.from);
            const double x2 = cost_.at(costs.to);
            const double y1 = probability_.at(probabilities.to);
            const double y2 = probability_.at(probabilities.from);
            svg_.rectangle(x1, y1, x2 - x1, y2 - y1,
                           " fill=\"" + std::string{look(cell.band).colour} +
                               "\" fill-opacity=\"0.13\" stroke=\"#fff\"");
        }
        name_categories();
    }

    // The band of each cell in words, above the marks.
    void cell_words() {
        for (const MatrixCell& cell : matrix_.cells) {
            const AxisRange& costs = matrix_.costs[cell.consequence];
            const AxisRange& probabilities = matrix_.probabilities[cell.probability];
            if (costs.from > costs.to || probabilities.from > probabilities.to) continue;
            svg_.text(cost_.at(costs.from) + 5, probability_.at(probabilities.to) + 14,
                      bands_.words[cell.band].key, " class=\"small halo\"");
        }
    }

    void name_categories() {
        const Vocabulary& costs = rules_.vocabulary("consequence_category");
        for (std::size_t c = 0; c < matrix_.costs.size(); ++c) {
            const AxisRange& range = matrix_.costs[c];
            if (range.from > range.to) continue;
            svg_.text((cost_.at(range.from) + cost_.at(range.to)) / 2, top_px - 22,
                      costs.words[c].key, " class=\"bold middle\"");
            if (std::isfinite(range.to)) limit(cost_.at(range.to), true, compact(range.to));
        }
        const Vocabulary& probabilities = rules_.vocabulary("probability_category");
        for (std::size_t p = 0; p < matrix_.probabilities.size(); ++p) {
            const AxisRange& range = matrix_.probabilities[p];
            if (range.from > range.to) continue;
            svg_.text(right_px + 8,
                      (probability_.at(range.from) + probability_.at(range.to)) / 2 + 5,
                      probabilities.words[p].key, " class=\"bold\"");
            if (std::isfinite(range.to)) {
                limit(probability_.at(range.to), false, short_number(range.to, 3));
            }
        }
    }

    void limit(double at, bool upright, const std::string& text) {
        if (upright) {
            svg_.line(at, top_px - 4, at, bottom_px, limit_line);
            svg_.text(at, top_px - 8, text, " class=\"small middle\"");
        } else {
            svg_.line(left_px, at, right_px + 4, at, limit_line);
            svg_.text(right_px + 8, at + 4, text, " class=\"small\"");
        }
    }

    void axes() {
        for (int decade = cost_.first; decade <= cost_.last; ++decade) {
            const double x = cost_.at(std::pow(10.0, decade));
            svg_.line(x, bottom_px, x, bottom_px + 6, limit_line);
            svg_.text(x, bottom_px + 22, compact(std::pow(10.0, decade)), " class=\"middle\"");
        }
        for (int decade = probability_.first; decade <= probability_.last; ++decade) {
            const double y = probability_.at(std::pow(10.0, decade));
            svg_.line(left_px - 6, y, left_px, y, limit_line);
            svg_.text(left_px - 10, y + 5, power_of_ten(decade), " class=\"end\"");
        }
        svg_.rectangle(left_px, top_px, right_px - left_px, bottom_px - top_px,
                       " fill=\"none\" stroke=\"#222\"");
        svg_.text((left_px + right_px) / 2, bottom_px + 44,
                  "Cost of a leak, " + plant_.description.currency, " class=\"bold middle\"");
        const double middle = (top_px + bottom_px) / 2;
        svg_.raw("<g transform=\"translate(28 " + pixels(middle) + ") rotate(-90)\">\n");
        svg_.text(0, 0, "Probability of a leak in a year", " class=\"bold middle\"");
        svg_.raw("</g>\n");
    }

    void iso_lines() {
        for (int decade = cost_.first + probability_.first + 1;
             decade < cost_.last + probability_.last; ++decade) {
            const double risk = std::pow(10.0, decade);
            iso_line_of(risk, iso_line, money(risk) + "/y", " class=\"small halo middle\"", false);
        }
    }

    // probability x cost = risk, from the left or upper edge to the right or lower one.
    void iso_line_of(double risk, std::string_view attributes, const std::string& text,
                     std::string_view text_attributes, bool label_at_upper_end) {
        const double from = std::max(cost_.from(), risk / probability_.to());
        const double to = std::min(cost_.to(), risk / probability_.from());
        if (from >= to) return;
        const double x1 = cost_.at(from);
        const double y1 = probability_.at(risk / from);
        const double x2 = cost_.at(to);
        const double y2 = probability_.at(risk / to);
        svg_.line(x1, y1, x2, y2, attributes);
        const double length = std::hypot(x2 - x1, y2 - y1);
        // Clear of the band words at the corner of the cells, and of the ends of the line.
        const double label_px = label_at_upper_end ? std::min(170.0, length / 2) : length - 56;
        if (length < 180) return;
        const double share = label_px / length;
        const double turn = std::atan2(y2 - y1, x2 - x1) * 180.0 / std::numbers::pi;
        svg_.raw("<g transform=\"translate(" + pixels(x1 + share * (x2 - x1)) + " " +
                 pixels(y1 + share * (y2 - y1)) + ") rotate(" + pixels(turn) + ")\">\n");
        svg_.text(0, label_at_upper_end ? -7 : 4, text, text_attributes);
        svg_.raw("</g>\n");
    }

    void criteria() {
        const RiskCriteria& site = plant_.description.criteria;
        if (site.risk_per_year) {
            iso_line_of(*site.risk_per_year, criterion_line,
                        "criterion " + money(*site.risk_per_year) + "/y",
                        " class=\"bold halo middle\"", true);
        }
        if (!site.probability_per_year) return;
        const double y = probability_.at(*site.probability_per_year);
        svg_.line(left_px, y, right_px, y, probability_line);
        svg_.text(right_px - 8, y - 7,
                  "criterion " + short_number(*site.probability_per_year, 3) + " a year",
                  " class=\"bold halo end\"");
    }

    void draw_marks(const std::vector<PlotMark>& marks) {
        std::size_t band = bands_.words.size();
        for (const PlotMark& mark : marks) {
            if (mark.band != band) {
                svg_.raw(band == bands_.words.size() ? "" : "</g>\n");
                band = mark.band;
                svg_.raw("<g fill=\"" + std::string{look(band).colour} +
                         "\" fill-opacity=\"0.85\" stroke=\"#fff\" stroke-width=\"0.7\">\n");
            }
            svg_.raw(mark_outline(look(band).shape, mark.x_px, mark.y_px, radius(mark.count)) +
                     "><title>" + xml_text(told(mark)) + "</title></" +
                     std::string{closing(look(band).shape)} + ">\n");
        }
        if (!marks.empty()) svg_.raw("</g>\n");
    }

    static std::string_view closing(int shape) {
        constexpr std::array<std::string_view, 4> names{"circle", "rect", "path", "path"};
        return names[static_cast<std::size_t>(shape)];
    }

    // "S-1: 0.093 a year x 920k EUR = 85.6k EUR/y, high"
    [[nodiscard]] std::string told(const PlotMark& mark) const {
        const auto at = static_cast<Eigen::Index>(mark.worst);
        std::string text{plant_.segments.texts(S::segment)[ranking_.segment_rows[mark.worst]]};
        text += ": " + short_number(ranking_.likelihood.probability_of_failure_per_year[at], 3) +
                " a year x " + money(ranking_.consequence.leak_cost[at]) + " = " +
                money(ranking_.risk.risk_per_year[at]) + "/y, " + bands_.words[mark.band].key;
        return mark.count == 1 ? text : counted(mark.count, "segment") + ", the worst " + text;
    }

    void legend(const std::vector<PlotMark>& marks) {
        double y = top_px + 6;
        svg_.text(legend_px, y, "Segments by band of the risk", " class=\"bold\"");
        for (std::size_t band = bands_.words.size(); band-- > 0;) {
            y += 26;
            svg_.raw("<g fill=\"" + std::string{look(band).colour} + "\">" +
                     mark_outline(look(band).shape, legend_px + 10, y - 5, 7) + "/></g>\n");
            svg_.text(
                legend_px + 28, y,
                bands_.words[band].key + ": " + grouped(static_cast<double>(matrix_.bands[band])));
        }
        y += 40;
        svg_.text(legend_px, y, "Lines", " class=\"bold\"");
        legend_line(y += 24, iso_line, "equal risk a year");
        legend_line(y += 24, limit_line, "limits of the categories");
        const RiskCriteria& site = plant_.description.criteria;
        if (site.risk_per_year) legend_line(y += 24, criterion_line, "risk criterion of the site");
        if (site.probability_per_year) {
            legend_line(y += 24, probability_line, "probability criterion");
        }
        if (ranking_.order.size() > most_single_marks) legend_sizes(y + 40, marks);
    }

    void legend_line(double y, std::string_view attributes, const std::string& text) {
        svg_.line(legend_px, y - 4, legend_px + 36, y - 4, attributes);
        svg_.text(legend_px + 46, y, text);
    }

    void legend_sizes(double y, const std::vector<PlotMark>& marks) {
        svg_.text(legend_px, y, "Segments of a mark", " class=\"bold\"");
        std::size_t most = 1;
        for (const PlotMark& mark : marks) most = std::max(most, mark.count);
        for (std::size_t count = 1; count <= most; count *= 10) {
            y += 28;
            svg_.raw("<g fill=\"#777\">" + mark_outline(0, legend_px + 14, y - 5, radius(count)) +
                     "/></g>\n");
            svg_.text(legend_px + 36, y, grouped(static_cast<double>(count)));
        }
    }

    std::vector<std::string> note_lines(const std::vector<PlotMark>& marks) const {
        std::vector<std::string> notes;
        for (const std::string& each : hazard_lines(rules_, matrix_, bands_.words.size() - 1)) {
            notes.push_back(each);
        }
        std::size_t off = 0;
        for (const PlotMark& mark : marks) off += lies_off(mark) ? mark.count : 0;
        if (off > 0) {
            notes.push_back("Below the axes, drawn at the edge: " + counted(off, "segment") + ".");
        }
        notes.emplace_back(screening_caution);
        std::vector<std::string> lines;
        for (const std::string& note : notes) {
            const std::string text = wrapped(note, note_width, 3);
            for (std::size_t from = 0; from <= text.size();) {
                const std::size_t to = std::min(text.find('\n', from), text.size());
                lines.push_back(text.substr(from, to - from));
                from = to + 1;
            }
        }
        return lines;
    }

    [[nodiscard]] bool lies_off(const PlotMark& mark) const {
        const auto at = static_cast<Eigen::Index>(mark.worst);
        return ranking_.consequence.leak_cost[at] < cost_.from() ||
               ranking_.likelihood.probability_of_failure_per_year[at] < probability_.from();
    }

    [[nodiscard]] double radius(std::size_t count) const {
        return mark_radius(count, ranking_.order.size() > most_single_marks);
    }

    [[nodiscard]] BandLook look(std::size_t band) const {
        return look_of_band(band, bands_.words.size());
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    const RiskMatrix& matrix_;
    const Vocabulary& bands_;
    LogAxis cost_;
    LogAxis probability_;
    SvgWriter svg_;
};

}  // namespace

std::string matrix_svg(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const RiskMatrix& matrix) {
    return RiskPlot{plant, rules, ranking, matrix}.draw();
}

}  // namespace lagline
