#include "report/matrix_text.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/csv_text.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t cell_width = 11;

// "to 92k", "above 9.2M" of the costs that belong to a category.
std::string range_text(const AxisRange& range, const std::string& to, const std::string& from) {
    if (range.from > range.to) return "none";
    return std::isfinite(range.to) ? "to " + to : "above " + from;
}

class MatrixTable {
  public:
    MatrixTable(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                const RiskMatrix& matrix, const TextStyle& style)
        : plant_(plant),
          ranking_(ranking),
          matrix_(matrix),
          style_(style),
          rules_(rules),
          probabilities_(rules.vocabulary("probability_category")),
          consequences_(rules.vocabulary("consequence_category")),
          bands_(rules.vocabulary("risk_category")) {}

    std::string write(std::size_t worst) const {
        std::string text = head() + cells() + "\n" + totals();
        if (worst > 0) text += worst_segments(worst);
        return text + remarks() + cautions();
    }

  private:
    [[nodiscard]] std::string line(const std::string& text, std::size_t hang = 0) const {
        return wrapped(text, style_.width, hang) + "\n";
    }

    std::string head() const {
        return coloured(printable(plant_.description.name, style_.width - 2), Tone::strong,
                        style_) +
               "\n" +
               line("Segments by probability and cost of a leak at " + to_string(ranking_.at.date) +
                    " (" + ranking_.at.reason + ") by rules " + layers_text(rules_.layers) +
                    "; costs in " + plant_.description.currency + ".") +
               "\n";
    }

    // Two lines a row: how many, and which band.
    std::string cells() const {
        std::vector<TableColumn> columns{{"leaks a year", false, 0}};
        std::vector<std::string> limits{""};
        for (std::size_t c = 0; c < consequences_.words.size(); ++c) {
            columns.push_back({consequences_.words[c].key, true, cell_width});
            limits.push_back(range_text(matrix_.costs[c], compact(matrix_.costs[c].to),
                                        compact(matrix_.costs[c].from)));
        }
        std::vector<std::vector<std::string>> rows{limits};
        for (std::size_t p = probabilities_.words.size(); p-- > 0;) {
            const AxisRange& range = matrix_.probabilities[p];
            std::vector<std::string> counts{
                probabilities_.words[p].key + " " +
                range_text(range, short_number(range.to, 3), short_number(range.from, 3))};
            std::vector<std::string> words{""};
            for (std::size_t c = 0; c < consequences_.words.size(); ++c) {
                const MatrixCell& cell = matrix_.cell(p, c);
                const Tone tone = cell.rows.empty() ? Tone::quiet : tone_of(cell.band);
                counts.push_back(coloured(std::to_string(cell.rows.size()), tone, style_));
                words.push_back(coloured(bands_.words[cell.band].key, tone, style_));
            }
            rows.push_back(std::move(counts));
            rows.push_back(std::move(words));
        }
        return text_table(columns, rows, style_);
    }

    [[nodiscard]] Tone tone_of(std::size_t band) const {
        return tone_of_band(band, bands_.words.size());
    }

    std::string totals() const {
        std::string text = counted(ranking_.order.size(), "segment") + ": ";
        for (std::size_t band = bands_.words.size(); band-- > 0;) {
            text += std::to_string(matrix_.bands[band]) + " " + bands_.words[band].key;
            text += band > 0 ? ", " : ".";
        }
        return line(text);
    }

    std::string worst_segments(std::size_t worst) const {
        const std::size_t highest = bands_.words.size() - 1;
        std::string text;
        for (std::size_t p = probabilities_.words.size(); p-- > 0;) {
            for (std::size_t c = consequences_.words.size(); c-- > 0;) {
                const MatrixCell& cell = matrix_.cell(p, c);
                if (cell.band != highest || cell.rows.empty()) continue;
                text += line("  " + worst_of(cell, worst), 4);
            }
        }
        if (text.empty()) return "";
        return "\n" +
               coloured("Worst in " + bands_.words[highest].key + ", risk a year", Tone::strong,
                        style_) +
               "\n" + text;
    }

    std::string worst_of(const MatrixCell& cell, std::size_t worst) const {
        std::string text = probabilities_.words[cell.probability].key + " " +
                           consequences_.words[cell.consequence].key + ":";
        const std::size_t shown = std::min(worst, cell.rows.size());
        for (std::size_t i = 0; i < shown; ++i) {
            const std::uint32_t row = cell.rows[i];
            const auto name = plant_.segments.texts(S::segment)[ranking_.segment_rows[row]];
            text += (i == 0 ? " " : ", ") + printable(name, 40) + " " +
                    compact(ranking_.risk.risk_per_year[static_cast<Eigen::Index>(row)]);
        }
        if (shown < cell.rows.size()) {
            text += " and " + std::to_string(cell.rows.size() - shown) + " more";
        }
        return text;
    }

    std::string remarks() const {
        std::string text;
        if (!ranking_.not_ranked.empty()) {
            text += line("Not ranked: " + counted(ranking_.not_ranked.size(), "segment") +
                         "; lagline rank says why.");
        }
        if (matrix_.held > 0) {
            text += line("Of " + counted(matrix_.held, "segment") +
                         " the money added up does not fit the category that the site gives: the "
                         "category stands.");
        }
        return text.empty() ? "" : "\n" + text;
    }

    std::string cautions() const {
        std::string text = "\n";
        for (const std::string& each : hazard_lines(rules_, matrix_, bands_.words.size() - 1)) {
            text += line(each, 2);
        }
        return text + coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) +
               "\n";
    }

    const Plant& plant_;
    const Ranking& ranking_;
    const RiskMatrix& matrix_;
    const TextStyle& style_;
    const RuleSet& rules_;
    const Vocabulary& probabilities_;
    const Vocabulary& consequences_;
    const Vocabulary& bands_;
};

// Empty for an end that has no limit.
void append_limit(std::string& csv, double value) {
    csv += ',';
    if (std::isfinite(value)) append_number(csv, value);
}

}  // namespace

std::vector<std::string> hazard_lines(const RuleSet& rules, const RiskMatrix& matrix,
                                      std::size_t band) {
    std::vector<std::string> lines;
    for (const HazardCount& each : matrix.hazards) {
        if (each.band != band) continue;
        const std::string head = "In band " + rules.vocabulary("risk_category").words[band].key +
                                 ", " + counted(each.count, "segment");
        if (each.hazard.empty()) {
            lines.push_back(head +
                            " without a fluid class: treat a release as flammable and toxic "
                            "until it is known.");
        } else {
            lines.push_back(head + " in " + std::string{each.hazard} +
                            " service: " + std::string{each.meaning} + ".");
        }
    }
    return lines;
}

std::string matrix_table(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                         const RiskMatrix& matrix, std::size_t worst, const TextStyle& style) {
    return MatrixTable{plant, rules, ranking, matrix, style}.write(worst);
}

std::string matrix_csv(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const RiskMatrix& matrix) {
    std::string csv =
        "probability_category,probability_above [1/y],probability_upto [1/y],consequence_category,"
        "cost_above,cost_upto,risk_category,segments,risk,worst_segment,currency\n";
    for (const MatrixCell& cell : matrix.cells) {
        const AxisRange& probability = matrix.probabilities[cell.probability];
        const AxisRange& cost = matrix.costs[cell.consequence];
        csv += rules.vocabulary("probability_category").words[cell.probability].key;
        append_limit(csv, probability.from);
        append_limit(csv, probability.to);
        csv += "," + rules.vocabulary("consequence_category").words[cell.consequence].key;
        append_limit(csv, cost.from);
        append_limit(csv, cost.to);
        csv += "," + rules.vocabulary("risk_category").words[cell.band].key + ",";
        append_number(csv, static_cast<double>(cell.rows.size()));
        csv += ',';
        append_number(csv, cell.risk_per_year);
        csv += ',';
        if (!cell.rows.empty()) {
            append_csv_text(
                csv, plant.segments.texts(S::segment)[ranking.segment_rows[cell.rows.front()]]);
        }
        csv += "," + plant.description.currency + "\n";
    }
    return csv;
}

}  // namespace lagline
