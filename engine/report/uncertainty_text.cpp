#include "report/uncertainty_text.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t wide_enough = 96;
constexpr std::size_t bar_cells = 5;
// Segments below the top group that are shown as likely to belong to it.
constexpr double likely = 0.2;
constexpr std::size_t most_challengers = 10;

std::string bar(double share) {
    const auto filled = static_cast<std::size_t>(std::lround(share * bar_cells));
    std::string text;
    for (std::size_t i = 0; i < bar_cells; ++i) text += i < filled ? "█" : "░";
    return text;
}

std::string percent(double share) { return std::to_string(std::lround(100.0 * share)) + "%"; }

// Money in a narrow column: 92M, 510k.
std::string compact(double money) {
    if (money >= 1e6) return short_number(money / 1e6, 3) + "M";
    if (money >= 1e3) return short_number(money / 1e3, 3) + "k";
    return short_number(money, 3);
}

class UncertaintyWriter {
  public:
    UncertaintyWriter(const Plant& plant, const RuleSet& rules, const Uncertainty& sure,
                      const TextStyle& style)
        : plant_(plant), rules_(rules), sure_(sure), style_(style) {}

    std::string write(std::size_t rows) {
        const std::size_t all = sure_.segments.size();
        const std::size_t shown = rows == 0 ? all : std::min(rows, all);
        std::string text = head();
        std::vector<std::size_t> first(shown);
        for (std::size_t i = 0; i < shown; ++i) first[i] = i;
        if (shown > 0) text += table(first);
        text += challengers(shown) + legend() + records(rows) + left_out();
        return text + "\n" +
               coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) + "\n";
    }

  private:
    [[nodiscard]] bool wide() const { return style_.width >= wide_enough; }
    [[nodiscard]] std::string top() const { return std::to_string(sure_.options.top); }

    std::string segment_name(std::uint32_t row) const {
        return printable(plant_.segments.texts(S::segment)[row], 40);
    }

    std::string head() const {
        const std::string title = printable(plant_.description.name, style_.width - 2);
        const std::string first =
            "How sure the ranking at " + to_string(sure_.at.date) + " is (" + sure_.at.reason +
            "), by rules " + layers_text(rules_.layers) + "; money in " +
            plant_.description.currency + ". " + "What is not known was drawn " +
            std::to_string(sure_.options.samples) +
            " times from what the rules say may stand there, and the plant ranked each time.";
        return coloured(title, Tone::strong, style_) + "\n" + wrapped(first, style_.width, 0) +
               "\n\n";
    }

    std::string table(const std::vector<std::size_t>& segments) const {
        std::vector<TableColumn> columns{{"rank", true, 0}, {"segment", false, 16}};
        if (wide()) columns.push_back({"unit", false, 8});
        columns.push_back({"risk/y", true, 0});
        columns.push_back({"expected", true, 0});
        columns.push_back({"in top " + top(), false, 0});
        columns.push_back({"rank 10-90%", true, 0});
        columns.push_back({"gaps", true, 0});
        columns.push_back({"owes most to", false, 0});
        std::vector<std::vector<std::string>> rows;
        for (const std::size_t i : segments) rows.push_back(row(i));
        return text_table(columns, rows, style_);
    }

    std::vector<std::string> row(std::size_t i) const {
        const SegmentUncertainty& each = sure_.segments[i];
        std::vector<std::string> cells{std::to_string(i + 1), segment_name(each.segment_row)};
        if (wide()) {
            cells.push_back(printable(plant_.segments.texts(S::unit)[each.segment_row], 40));
        }
        cells.push_back(compact(each.risk_per_year));
        cells.push_back(compact(each.expected_risk_per_year));
        const Tone tone = each.top_probability >= 0.9   ? Tone::good
                          : each.top_probability >= 0.5 ? Tone::warn
                                                        : Tone::bad;
        cells.push_back(coloured(bar(each.top_probability), tone, style_) + " " +
                        percent(each.top_probability));
        cells.push_back(short_number(each.rank_low, 6) + "-" + short_number(each.rank_high, 6));
        cells.push_back(std::to_string(each.gap_count));
        cells.push_back(worst_gap(each));
        return cells;
    }

    std::string worst_gap(const SegmentUncertainty& each) const {
        const auto begin = sure_.gaps.begin() + static_cast<std::ptrdiff_t>(each.first_gap);
        const auto end = begin + static_cast<std::ptrdiff_t>(each.gap_count);
        const auto worst = std::max_element(
            begin, end, [](const auto& a, const auto& b) { return a.rank_share < b.rank_share; });
        if (worst == end || percent(worst->rank_share) == "0%") return "";
        return percent(worst->rank_share) + " " + std::string{gap_column(*worst)};
    }

    static std::string_view gap_column(const GapEffect& gap) {
        return gap.distribution->file == DistributionFile::segments
                   ? segment_fields()[gap.distribution->field].key
                   : inspection_fields()[gap.distribution->field].key;
    }

    // By the values taken they stand below, but what is missing can bring them in.
    std::string challengers(std::size_t shown) const {
        std::vector<std::size_t> below;
        for (std::size_t i = std::max(shown, sure_.options.top); i < sure_.segments.size(); ++i) {
            if (sure_.segments[i].top_probability >= likely) below.push_back(i);
        }
        const std::size_t count = below.size();
        if (count == 0) return "";
        std::ranges::stable_sort(below, [this](std::size_t a, std::size_t b) {
            return sure_.segments[a].top_probability > sure_.segments[b].top_probability;
        });
        below.resize(std::min(count, most_challengers));
        return "\n" +
               wrapped("Below the top " + top() +
                           ", yet with a chance of 20 % or more to belong "
                           "to it: " +
                           counted(count, "segment") +
                           (count > below.size() ? ", the likeliest being" : ""),
                       style_.width, 0) +
               "\n" + table(below);
    }

    std::string legend() const {
        const double unseen = 3.0 / static_cast<double>(sure_.options.samples);
        return coloured(
                   wrapped(
                       "risk/y: by the values taken; expected: mean over the draws; in top " +
                           top() +
                           ": share of the draws in which it belongs there (its standard error "
                           "is at most " +
                           short_number(
                               50.0 / std::sqrt(static_cast<double>(sure_.options.samples)), 2) +
                           " points; 0 % means below " + short_number(100.0 * unseen, 2) +
                           " %); rank 10-90%: the range that eight draws in ten fall into; "
                           "owes most to: the gap that alone explains most of the spread of "
                           "its rank.",
                       style_.width, 0),
                   Tone::quiet, style_) +
               "\n";
    }

    std::string records(std::size_t rows) const {
        std::string text = "\n" + coloured("Find this record first", Tone::strong, style_) + "\n";
        if (sure_.find_first.empty()) {
            return text +
                   wrapped("No missing record decides who belongs to the top " + top() + ".",
                           style_.width, 0) +
                   "\n";
        }
        const std::size_t all = sure_.find_first.size();
        const std::size_t shown = rows == 0 ? all : std::min(rows, all);
        std::vector<std::vector<std::string>> cells;
        for (std::size_t k = 0; k < shown; ++k) {
            const GapEffect& gap = sure_.gaps[sure_.find_first[k]];
            const SegmentUncertainty& each = sure_.segments[gap.segment];
            const double doubt = each.top_probability * (1.0 - each.top_probability);
            cells.push_back({std::to_string(k + 1), segment_name(each.segment_row),
                             std::to_string(gap.segment + 1), percent(each.top_probability),
                             percent(gap.doubt_removed / doubt), percent(gap.rank_share),
                             gap_name(plant_, gap)});
        }
        text += text_table({{"", true, 0},
                            {"segment", false, 16},
                            {"rank", true, 0},
                            {"in top " + top(), true, 0},
                            {"settles", true, 0},
                            {"of rank", true, 0},
                            {"record", false, 0}},
                           cells, style_);
        if (shown < all) {
            text += coloured(counted(all - shown, "record") +
                                 " more: --rows N for more, --format csv for all.\n",
                             Tone::quiet, style_);
        }
        return text +
               coloured(wrapped("settles: how much of the doubt whether the segment belongs "
                                "to the top " +
                                    top() +
                                    " the record would remove; of rank: share of the "
                                    "variance of its rank.",
                                style_.width, 0),
                        Tone::quiet, style_) +
               "\n";
    }

    std::string left_out() const {
        std::string text;
        if (!sure_.not_ranked.empty()) {
            text += "\n" + counted(sure_.not_ranked.size(), "segment") + " not ranked.\n";
        }
        for (const std::size_t field : sure_.without_distribution) {
            text += wrapped("No distribution in these rules for " +
                                std::string{segment_fields()[field].key} +
                                ": what is taken for it stands.",
                            style_.width, 2) +
                    "\n";
        }
        return text;
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Uncertainty& sure_;
    const TextStyle& style_;
};

}  // namespace

std::string gap_name(const Plant& plant, const GapEffect& gap) {
    const Distribution& from = *gap.distribution;
    const bool of_segment = from.file == DistributionFile::segments;
    std::string name{of_segment ? segment_fields()[from.field].key
                                : inspection_fields()[from.field].key};
    if (!of_segment) {
        const Date day{plant.inspections.days(InspectionField::date)[gap.row]};
        return name + " of " + to_string(day);
    }
    return name + (from.cell == DoubtfulCell::imprecise ? ", no day given" : ", not known");
}

std::string uncertainty_text(const Plant& plant, const RuleSet& rules, const Uncertainty& sure,
                             std::size_t rows, const TextStyle& style) {
    return UncertaintyWriter{plant, rules, sure, style}.write(rows);
}

}  // namespace lagline
