#include "report/what_if_text.h"

#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

using S = SegmentField;

/// Where a segment stands in a ranking.
struct Standing {
    std::size_t rank = 0;  ///< 0: not ranked
    double risk_per_year = 0.0;
};

std::vector<Standing> standings(const TrialSide& side) {
    std::vector<Standing> found(side.plant.segments.rows());
    for (std::size_t rank = 0; rank < side.ranking.order.size(); ++rank) {
        const std::uint32_t row = side.ranking.order[rank];
        found[side.ranking.segment_rows[row]] = {rank + 1, side.ranking.risk.risk_per_year[row]};
    }
    return found;
}

double sum_of_risk(const std::vector<Standing>& all) {
    double sum = 0.0;
    for (const Standing& standing : all) sum += standing.risk_per_year;
    return sum;
}

std::string rank_text(const Standing& standing) {
    return standing.rank == 0 ? "none" : std::to_string(standing.rank);
}

class TrialText {
  public:
    TrialText(const TrialSide& before, const TrialSide& after, std::size_t top,
              const TextStyle& style)
        : before_(before),
          after_(after),
          top_(top),
          style_(style),
          stood_(standings(before)),
          stands_(standings(after)) {}

    [[nodiscard]] std::string write() const {
        return title(printable(before_.plant.description.name, style_.width - 2)) +
               wrapped("Values on trial; no file is changed. Ranked at " +
                           to_string(after_.ranking.at.date) + "; money in " +
                           after_.plant.description.currency + ".",
                       style_.width, 0) +
               "\n\n" + sums() + ranks() + actions() +
               coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) + "\n";
    }

  private:
    [[nodiscard]] std::string title(const std::string& text) const {
        return coloured(text, Tone::strong, style_) + "\n";
    }

    [[nodiscard]] std::string sums() const {
        const std::vector<TableColumn> columns{
            {"", false, 0}, {"before", true, 0}, {"after", true, 0}, {"change", true, 0}};
        std::vector<std::vector<std::string>> rows;
        const auto add = [&](std::string_view what, double before, double after) {
            const double change = std::round(after) - std::round(before);
            rows.push_back({std::string{what}, grouped(std::round(before)),
                            grouped(std::round(after)),
                            (change > 0.0 ? "+" : "") + grouped(change)});
        };
        const PlanTotals& was = before_.plan.totals;
        const PlanTotals& is = after_.plan.totals;
        add("risk a year at the rank date", sum_of_risk(stood_), sum_of_risk(stands_));
        add("leaks if nothing is done", before_.plan.left.loss, after_.plan.left.loss);
        add("leaks with the plan", was.loss, is.loss);
        add("work", was.cost, is.cost);
        add("work and leaks", was.value(), is.value());
        add("spent, prices of today", was.spent(), is.spent());
        add("segments worked on", static_cast<double>(was.treated),
            static_cast<double>(is.treated));
        add("late", static_cast<double>(was.late), static_cast<double>(is.late));
        return title("In sum") + text_table(columns, rows, style_) + "\n";
    }

    [[nodiscard]] std::string more(std::size_t all) const {
        if (top_ == 0 || all <= top_) return "";
        return coloured(std::to_string(all - top_) + " more: --top 0 for all.\n", Tone::quiet,
                        style_);
    }

    [[nodiscard]] std::string ranks() const {
        std::vector<std::uint32_t> moved;
        for (std::uint32_t segment = 0; segment < stood_.size(); ++segment) {
            if (stood_[segment].risk_per_year != stands_[segment].risk_per_year ||
                (stood_[segment].rank == 0) != (stands_[segment].rank == 0)) {
                moved.push_back(segment);
            }
        }
        if (moved.empty()) return title("Risk") + "No segment has another risk.\n\n";
        std::ranges::stable_sort(moved, std::greater<>{}, [&](std::uint32_t segment) {
            return std::abs(stands_[segment].risk_per_year - stood_[segment].risk_per_year);
        });
        const std::vector<TableColumn> columns{{"segment", false, 20},
                                               {"rank", true, 0},
                                               {"then", true, 0},
                                               {"risk/y", true, 0},
                                               {"then", true, 0}};
        std::vector<std::vector<std::string>> rows;
        for (const std::uint32_t segment : moved) {
            if (top_ != 0 && rows.size() == top_) break;
            rows.push_back({printable(before_.plant.segments.texts(S::segment)[segment], 20),
                            rank_text(stood_[segment]), rank_text(stands_[segment]),
                            compact(stood_[segment].risk_per_year),
                            compact(stands_[segment].risk_per_year)});
        }
        return title("Segments with another risk: " + std::to_string(moved.size())) +
               text_table(columns, rows, style_) + more(moved.size()) + "\n";
    }

    [[nodiscard]] static std::vector<const Strategy*> by_segment(const TrialSide& side) {
        std::vector<const Strategy*> chosen(side.plant.segments.rows(), nullptr);
        for (const PlannedSegment& segment : side.plan.segments) {
            chosen[segment.segment_row] = &side.plan.strategies.all[segment.strategy];
        }
        return chosen;
    }

    [[nodiscard]] static std::string action_text(const TrialSide& side, const Strategy* strategy) {
        if (strategy == nullptr) return "not ranked";
        if (!strategy->acts) return "leave";
        return std::string{short_name(strategy->action)} + ", " +
               printable(side.plan.windows[strategy->window].name, 16);
    }

    [[nodiscard]] std::string actions() const {
        const auto were = by_segment(before_);
        const auto are = by_segment(after_);
        std::vector<std::vector<std::string>> rows;
        std::size_t changed = 0;
        for (std::uint32_t segment = 0; segment < were.size(); ++segment) {
            const std::string was = action_text(before_, were[segment]);
            const std::string is = action_text(after_, are[segment]);
            if (was == is) continue;
            ++changed;
            if (top_ != 0 && rows.size() == top_) continue;
            rows.push_back(
                {printable(before_.plant.segments.texts(S::segment)[segment], 20), was, is});
        }
        if (changed == 0) return title("Work") + "No segment is planned otherwise.\n\n";
        return title("Segments planned otherwise: " + std::to_string(changed)) +
               text_table({{"segment", false, 20}, {"before", false, 0}, {"after", false, 0}}, rows,
                          style_) +
               more(changed) + "\n";
    }

    const TrialSide& before_;
    const TrialSide& after_;
    std::size_t top_;
    TextStyle style_;
    std::vector<Standing> stood_;
    std::vector<Standing> stands_;
};

}  // namespace

std::string what_if_text(const TrialSide& before, const TrialSide& after, std::size_t top,
                         const TextStyle& style) {
    return TrialText{before, after, top, style}.write();
}

}  // namespace lagline
