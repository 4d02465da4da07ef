#include "report/scope_text.h"

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/scope_sheets.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::string_view made_by_plan = "Sheets of `lagline plan`, by window and scaffold group.";

class ScopeText {
  public:
    ScopeText(const Plant& plant, const RuleSet& rules, const Plan& plan, const TextStyle& style)
        : plant_(plant), rules_(rules), plan_(plan), style_(style) {}

    [[nodiscard]] std::string write(const std::vector<ScopeSheet>& sheets) const {
        std::string text = coloured("Scope of work: " + printable(plant_.description.name, 60),
                                    Tone::strong, style_) +
                           "\n" + std::string{made_by_plan} + "\n\n";
        for (const ScopeSheet& sheet : sheets) text += write_sheet(sheet);
        return text + wrapped(screening_caution, style_.width, 0) + "\n";
    }

  private:
    [[nodiscard]] std::string write_sheet(const ScopeSheet& sheet) const {
        const PlanWindow& window = plan_.windows[sheet.window];
        std::string text =
            coloured(printable(window.name, 30) + ", " + area_of(sheet, plan_), Tone::strong,
                     style_) +
            "\n" +
            wrapped(to_string(window.start) + " to " + to_string(window.end) +
                        (window.state == WorkState::shutdown ? ", plant shut down. "
                                                             : ", plant running. ") +
                        counted(sheet.segments.size(), "segment") + scaffold(sheet) + ".",
                    style_.width, 0) +
            "\n\n";
        for (const ScopeSegment& segment : sheet.segments) text += write_segment(segment) + "\n";
        text += "  Cautions\n";
        for (const ScopeCaution& caution : sheet.cautions) {
            text += "  " + wrapped("- " + caution.text, style_.width - 2, 4) + "\n";
        }
        for (const std::string_view warning : field_cautions) {
            text += "  " + wrapped("- " + std::string{warning}, style_.width - 2, 4) + "\n";
        }
        return text + "\n";
    }

    [[nodiscard]] std::string scaffold(const ScopeSheet& sheet) const {
        if (!sheet.needs_scaffold(plan_)) return "";
        return "; scaffold to " + short_number(plan_.groups.elevation_m[*sheet.group], 3) + " m, " +
               short_number(plan_.groups.hours[*sheet.group], 3) + " h";
    }

    [[nodiscard]] std::string write_segment(const ScopeSegment& told) const {
        std::string text =
            "  [ ] " + printable(plant_.segments.texts(S::segment)[told.segment], 30) + ", line " +
            printable(plant_.segments.texts(S::line)[told.segment], 30) + ": " +
            rules_.vocabulary("work_action").words[static_cast<std::size_t>(told.action)].meaning +
            "\n";
        const auto line = [&](const std::string& what, const std::string& value) {
            if (value.empty()) return;
            text += "      " + wrapped(what + ": " + value, style_.width - 6, 8) + "\n";
        };
        line("look first at", hot_spots(told));
        line("inspection", told.inspection);
        line("coating", told.coating);
        line("take-off", told.take_off);
        line(told.follow_window
                 ? "may follow in " + printable(plan_.windows[*told.follow_window].name, 20)
                 : "may follow",
             told.follow_ups);
        return text;
    }

    [[nodiscard]] static std::string hot_spots(const ScopeSegment& told) {
        std::string text;
        for (const HotSpot& spot : told.hot_spots) text += (text.empty() ? "" : "; ") + spot.place;
        return text;
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Plan& plan_;
    TextStyle style_;
};

}  // namespace

std::string scope_text(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const Plan& plan, const TextStyle& style,
                       std::optional<std::size_t> window) {
    return ScopeText{plant, rules, plan, style}.write(
        scope_sheets(plant, rules, ranking, plan, window));
}

}  // namespace lagline
