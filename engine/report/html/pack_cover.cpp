#include <algorithm>
#include <cmath>

#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/html/markup.h"
#include "report/html/pack_parts.h"
#include "report/layout.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

class Cover {
  public:
    explicit Cover(const PackContent& content) : content_(content) {}

    [[nodiscard]] std::string write(std::string_view version) const {
        std::size_t segments = 0;
        for (const ScopeSheet& each : content_.sheets) segments += each.segments.size();
        std::string text =
            "<section>\n<p class=\"maker\">Lagline work pack: inspection and "
            "recoating under insulation</p>\n";
        text += in_tag("h1", told(content_.plant.description.name)) + "\n";
        text += in_tag("p class=\"quiet\"",
                       "Plan as of " + to_string(content_.plan.futures.today) +
                           ", risk ranked at " + to_string(content_.ranking.at.date) + ", rules " +
                           told(layers_text(content_.rules.layers)) + ", Lagline " +
                           std::string{version} + ". " + counted(segments, "segment") + " on " +
                           counted(content_.sheets.size(), "sheet") + ".") +
                "\n";
        if (content_.plan.solution.status == SolveStatus::overrun) {
            text +=
                "<div class=\"warn\"><p>The compulsory work does not fit the limits of the "
                "windows: what is short is told by <code>lagline plan</code>.</p></div>\n";
        }
        text += engineer_now();
        text += windows();
        text += "<div class=\"warn\"><h3>Before anything is touched</h3>\n<ul class=\"ticks\">\n";
        for (const std::string_view caution : field_cautions) text += to_tick(as_markup(caution));
        text += "</ul>\n" + in_tag("p", as_markup(screening_caution)) + "</div>\n";
        text += contents();
        return text + "</section>\n";
    }

  private:
    [[nodiscard]] bool shown(std::size_t window) const {
        return std::ranges::any_of(content_.sheets,
                                   [&](const ScopeSheet& each) { return each.window == window; });
    }

    // Limits that are endless are left out.
    [[nodiscard]] static std::string used(double amount, double limit) {
        std::string text = unbroken(grouped(std::round(amount)));
        if (std::isfinite(limit)) text += " of " + unbroken(grouped(std::round(limit)));
        return text;
    }

    // A number stays on one line.
    [[nodiscard]] static std::string unbroken(std::string_view number) {
        std::string text;
        for (const char each : number) {
            if (each == ' ') {
                text += "&nbsp;";
            } else {
                text += each;
            }
        }
        return text;
    }

    // Facts that stand above the plan, whatever work it holds.
    [[nodiscard]] std::string engineer_now() const {
        const auto& needs = content_.plan.engineer_now;
        if (needs.empty()) return "";
        std::string text = "<div class=\"warn\">" + in_tag("h3", as_markup(engineer_title)) +
                           "\n<ul class=\"ticks\">\n";
        for (const EngineerNeed& need : needs) {
            const std::string_view name =
                content_.plant.segments.texts(SegmentField::segment)[need.segment_row];
            text += to_tick(told(name) + ": " +
                            as_markup(describe(need, content_.plant, content_.rules)) + ", found " +
                            to_string(need.found));
        }
        return text + "</ul>\n" + in_tag("p", as_markup(engineer_note)) + "</div>\n";
    }

    [[nodiscard]] std::string windows() const {
        std::string text =
            "<h3>Windows</h3>\n<table class=\"windows\"><thead><tr><th>window</th><th>from, to</th>"
            "<th>plant</th><th class=\"amount\">sheets</th><th class=\"amount\">"
            "segments</th><th class=\"amount\">scaffolds</th><th "
            "class=\"amount\">money, " +
            told(content_.plant.description.currency) + "</th>";
        for (const Word& craft : content_.rules.vocabulary("craft").words) {
            text += in_tag("th class=\"amount\"", told(craft.key) + " h");
        }
        text += "</tr></thead><tbody>\n";
        for (std::size_t w = 0; w < content_.plan.windows.size(); ++w) {
            if (shown(w)) text += window_row(w);
        }
        return text +
               "</tbody></table>\n<p class=\"quiet\">Money and hours hold what is expected "
               "to follow from what is found.</p>\n";
    }

    [[nodiscard]] std::string window_row(std::size_t w) const {
        const PlanWindow& window = content_.plan.windows[w];
        const WindowTotals& totals = content_.plan.totals.windows[w];
        std::size_t sheets = 0;
        std::size_t segments = 0;
        for (const ScopeSheet& each : content_.sheets) {
            if (each.window != w) continue;
            ++sheets;
            segments += each.segments.size();
        }
        std::string row = in_tag("td class=\"name label\"", window_name(content_, w)) +
                          in_tag("td class=\"whole\"", days_of(window)) +
                          in_tag("td class=\"whole\"", std::string{state_of(window)});
        for (const std::size_t count : {sheets, segments, totals.scaffolds}) {
            row += in_tag("td class=\"amount\"", std::to_string(count));
        }
        row += in_tag("td class=\"amount\"", used(totals.money, window.budget));
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            row += in_tag("td class=\"amount\"", used(totals.hours[craft], window.hours[craft]));
        }
        return in_tag("tr", row) + "\n";
    }

    [[nodiscard]] std::string contents() const {
        std::string text =
            "<h3>Sheets</h3>\n<table><thead><tr><th class=\"amount\">sheet</th>"
            "<th>window</th><th>area</th><th class=\"amount\">segments</th><th>work"
            "</th><th class=\"amount\">scaffold to</th></tr></thead><tbody>\n";
        for (std::size_t i = 0; i < content_.sheets.size(); ++i) {
            const ScopeSheet& each = content_.sheets[i];
            std::string row =
                in_tag("td class=\"amount\"", std::to_string(i + 1)) +
                in_tag("td class=\"label\"", window_name(content_, each.window)) +
                in_tag("td class=\"label\"", as_markup(area_of(each, content_.plan))) +
                in_tag("td class=\"amount\"", std::to_string(each.segments.size())) +
                in_tag("td", actions(each)) + in_tag("td class=\"amount\"", scaffold(each));
            text += in_tag("tr", row) + "\n";
        }
        return text + "</tbody></table>\n";
    }

    [[nodiscard]] std::string actions(const ScopeSheet& each) const {
        std::string text;
        for (std::size_t action = 0; action < work_actions; ++action) {
            const auto count = std::ranges::count(each.segments, static_cast<WorkAction>(action),
                                                  &ScopeSegment::action);
            if (count == 0) continue;
            text += (text.empty() ? "" : "; ") + std::to_string(count) + " " +
                    std::string{short_name(static_cast<WorkAction>(action))};
        }
        return text;
    }

    [[nodiscard]] std::string scaffold(const ScopeSheet& each) const {
        return each.needs_scaffold(content_.plan) ? scaffold_height(content_, each)
                                                  : "none planned";
    }

    const PackContent& content_;
};

}  // namespace

std::string pack_cover(const PackContent& content, std::string_view version) {
    return Cover{content}.write(version);
}

}  // namespace lagline
