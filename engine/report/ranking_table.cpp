#include "report/ranking_table.h"

#include <algorithm>
#include <map>
#include <vector>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "ranking/drivers.h"
#include "ranking/explain.h"
#include "report/cautions.h"
#include "report/engineer_text.h"

namespace lagline {
namespace {

using S = SegmentField;

// From these widths on the table also shows the line, and how fast it corrodes.
constexpr std::size_t wide_enough = 96;
constexpr std::size_t very_wide = 112;

class TableWriter {
  public:
    TableWriter(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                const TextStyle& style)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          style_(style),
          drivers_(ranking),
          risks_(rules.vocabulary("risk_category")) {}

    std::string write(std::size_t top) {
        const std::size_t rows =
            top == 0 ? ranking_.order.size() : std::min(top, ranking_.order.size());
        std::string text = head();
        if (ranking_.outlook) {
            text += engineer_block(plant_, rules_, ranking_.outlook->engineer_now, style_);
        }
        if (rows > 0) text += table(rows) + "\n";
        if (rows < ranking_.order.size()) {
            text += coloured(counted(ranking_.order.size() - rows, "row") +
                                 " more: --top N for more, --format csv for all.\n",
                             Tone::quiet, style_);
        }
        if (rows > 0) text += coloured(legend(), Tone::quiet, style_);
        return text + bands() + left_out() + caution();
    }

  private:
    std::string head() const {
        const std::string title = printable(plant_.description.name, style_.width - 2);
        return coloured(title, Tone::strong, style_) + "\n" +
               wrapped("Ranked at " + to_string(ranking_.at.date) + " (" + ranking_.at.reason +
                           ") by rules " + layers_text(rules_.layers) + "; money in " +
                           plant_.description.currency + ".",
                       style_.width, 0) +
               "\n\n";
    }

    std::string table(std::size_t rows) const {
        std::vector<TableColumn> columns{{"rank", true, 0}};
        if (ranking_.outlook) columns.push_back({"today", true, 0});
        columns.push_back({"segment", false, 16});
        if (shows_line()) columns.push_back({"line", false, 10});
        if (shows_place()) columns.push_back({"unit", false, 8});
        if (shows_degc()) columns.push_back({"degC", true, 0});
        if (very()) columns.push_back({"mm/y", true, 0});
        if (shows_place()) columns.push_back({"lost", true, 0});
        columns.push_back({"leak/y", true, 0});
        columns.push_back({"risk/y", true, 0});
        columns.push_back({"band", false, 0});
        if (ranking_.outlook) columns.push_back({"due", false, 0});
        if (shows_place()) columns.push_back({"gaps", true, 0});
        columns.push_back({wide() ? "worse than typical in" : "worse in", false, 0});
        std::vector<std::vector<std::string>> cells;
        for (std::size_t rank = 0; rank < rows; ++rank) cells.push_back(row(rank));
        return text_table(columns, cells, style_);
    }

    // With today's rank and the due date beside it, a narrow table has room for less.
    [[nodiscard]] bool shows_line() const { return ranking_.outlook ? very() : wide(); }
    [[nodiscard]] bool shows_place() const { return wide() || !ranking_.outlook; }
    [[nodiscard]] bool shows_degc() const { return very() || !ranking_.outlook; }
    [[nodiscard]] bool wide() const { return style_.width >= wide_enough; }
    [[nodiscard]] bool very() const { return style_.width >= very_wide; }

    std::vector<std::string> row(std::size_t rank) const {
        const std::uint32_t row = ranking_.order[rank];
        const std::uint32_t segment = ranking_.segment_rows[row];
        const auto at = static_cast<Eigen::Index>(row);
        const auto text = [&](S field) {
            return printable(plant_.segments.texts(field)[segment], 40);
        };
        std::vector<std::string> cells{std::to_string(rank + 1)};
        if (ranking_.outlook) cells.push_back(rank_today(row));
        cells.push_back(text(S::segment));
        if (shows_line()) cells.push_back(text(S::line));
        if (shows_place()) cells.push_back(text(S::unit));
        if (shows_degc()) {
            cells.push_back(short_number(ranking_.exposure.metal_temperature_degc[at], 3));
        }
        if (very()) {
            cells.push_back(loses_wall(row)
                                ? short_number(ranking_.wall_loss.corrosion_rate_mm_per_year[at], 2)
                                : "");
        }
        if (shows_place()) cells.push_back(lost(row));
        cells.push_back(short_number(ranking_.likelihood.probability_of_failure_per_year[at], 2));
        cells.push_back(compact(ranking_.risk.risk_per_year[at]));
        const std::size_t band = ranking_.risk.risk_category[at];
        cells.push_back(
            coloured(risks_.words[band].key, tone_of_band(band, risks_.words.size()), style_));
        if (ranking_.outlook) cells.push_back(due(rank));
        if (shows_place()) cells.push_back(std::to_string(ranking_.assumptions[row]));
        cells.push_back(reasons(row));
        return cells;
    }

    // Cracking takes no wall.
    [[nodiscard]] bool loses_wall(std::uint32_t row) const {
        return row < ranking_.mechanism_rows.wall_loss;
    }
    std::string lost(std::uint32_t row) const {
        if (!loses_wall(row)) return "cracks";
        return short_number(
                   100.0 * ranking_.likelihood.wall_fraction[static_cast<Eigen::Index>(row)], 2) +
               "%";
    }

    std::string rank_today(std::uint32_t row) const {
        const std::uint32_t rank = ranking_.outlook->rank_today[row];
        return rank > 0 ? std::to_string(rank) : "";
    }

    // Year and month; a segment that is due already says so.
    std::string due(std::size_t rank) const {
        const Outlook& outlook = *ranking_.outlook;
        const auto day = outlook.due[rank].date();
        if (!day) return "";
        constexpr std::size_t year_and_month = 7;
        std::string text =
            *day <= outlook.today ? "now" : to_string(*day).substr(0, year_and_month);
        if (very()) text += " " + std::string{to_string(*outlook.due[rank].first())};
        return *day <= ranking_.at.date ? coloured(text, Tone::bad, style_) : text;
    }

    std::string reasons(std::uint32_t row) const {
        std::string text;
        for (const Driver& driver : drivers_.find(row, style_.width >= very_wide ? 3 : 2)) {
            if (!text.empty()) text += ", ";
            text += std::string{driver.label} + " " +
                    (driver.info->key == "leak_cost" ? compact(driver.value)
                                                     : short_number(driver.value, 2));
        }
        return text;
    }

    std::string outlook_legend() const {
        if (!ranking_.outlook) return "";
        const Outlook& outlook = *ranking_.outlook;
        return " today: rank on " + to_string(outlook.today) + "; due: first day within " +
               std::to_string(outlook.horizon_years) + " years on which a criterion is reached: " +
               describe(outlook.criteria, plant_.description.currency) + ".";
    }

    std::string legend() const {
        std::string text = "leak/y: probability of a leak in a year.";
        if (shows_place()) {
            text =
                "lost: expected share of the wall lost since it was last known; leak/y: "
                "probability of a leak in a year; gaps: inputs assumed.";
        }
        return wrapped(text + outlook_legend(), style_.width, 0) + "\n";
    }

    std::string bands() const {
        std::string text = "\n" + counted(ranking_.order.size(), "segment") + " ranked: ";
        for (std::size_t band = risks_.words.size(); band-- > 0;) {
            const auto count = std::ranges::count_if(ranking_.order, [&](std::uint32_t row) {
                return ranking_.risk.risk_category[static_cast<Eigen::Index>(row)] == band;
            });
            text += std::to_string(count) + " " + risks_.words[band].key;
            text += band > 0 ? ", " : ".\n";
        }
        return text;
    }

    std::string left_out() const {
        std::map<std::string, std::size_t> by_reason;
        for (const NotRanked& left : ranking_.not_ranked) ++by_reason[left.reason];
        std::string text;
        for (const auto& [reason, count] : by_reason) {
            text += wrapped("Not ranked: " + counted(count, "segment") + ", " + reason + ".",
                            style_.width, 2) +
                    "\n";
        }
        return text;
    }

    std::string caution() const {
        return "\n" + coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) +
               "\n";
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    const TextStyle& style_;
    DriverFinder drivers_;
    const Vocabulary& risks_;
};

}  // namespace

std::string ranking_table(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                          std::size_t top, const TextStyle& style) {
    return TableWriter{plant, rules, ranking, style}.write(top);
}

}  // namespace lagline
