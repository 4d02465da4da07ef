#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "intake/cell_place.h"
#include "report/findings_csv.h"
#include "report/html/markup.h"
#include "report/html/pack_parts.h"
#include "report/layout.h"

namespace lagline {
namespace {

using S = SegmentField;

// Rows of the table of findings for what nobody foresaw.
constexpr std::size_t spare_rows = 2;
// Hours below this are not told.
constexpr double least_hours = 0.05;
constexpr std::size_t longest_caution = 400;

std::string hours_text(double hours) { return short_number(std::round(10.0 * hours) / 10.0, 4); }

std::string to_fill_in(std::initializer_list<std::string_view> lines) {
    std::string text = "<div class=\"lines\">";
    for (const std::string_view line : lines) text += in_tag("div", std::string{line});
    return text + "</div>\n";
}

class SheetPages {
  public:
    explicit SheetPages(const PackContent& content) : content_(content) {}

    [[nodiscard]] std::string write(std::size_t i) const {
        const ScopeSheet& each = content_.sheets[i];
        const PlanWindow& window = content_.plan.windows[each.window];
        std::string text =
            "<section class=\"page sheet\">\n<header class=\"masthead\"><div>" +
            in_tag("h2", title(i)) + "<p>" + days_of(window) + ", " +
            std::string{state_of(window)} + ". " + counted(each.segments.size(), "segment") +
            ". Scaffold: " + scaffold(each) + ".</p></div><div class=\"number\"><b>Sheet " +
            std::to_string(i + 1) + "</b> of " + std::to_string(content_.sheets.size()) + "<br>" +
            told(content_.plant.description.name) + "</div></header>\n";
        text += cautions(each) + work(i);
        text += "<div class=\"record\">\n";
        if (std::ranges::any_of(each.segments, is_to_be_recorded)) text += findings(i);
        text += "<div class=\"remarks\">Remarks, sketches, numbers of photographs</div>\n";
        text += to_fill_in(
            {"Inspector, name", "signature", "date", "Engineer, name", "signature", "date"});
        return text + "</div>\n</section>\n";
    }

  private:
    [[nodiscard]] const std::string& action(const ScopeSegment& segment) const {
        return content_.rules.vocabulary("work_action")
            .words[static_cast<std::size_t>(segment.action)]
            .meaning;
    }

    [[nodiscard]] std::string title(std::size_t sheet) const {
        return window_name(content_, content_.sheets[sheet].window) + ", " +
               as_markup(area_of(content_.sheets[sheet], content_.plan));
    }

    [[nodiscard]] std::string name_of(std::uint32_t segment) const {
        return told(content_.plant.segments.texts(S::segment)[segment]);
    }

    [[nodiscard]] std::string scaffold(const ScopeSheet& each) const {
        if (!each.needs_scaffold(content_.plan)) return "none planned for the group";
        return "to " + scaffold_height(content_, each) + ", " +
               hours_text(content_.plan.groups.hours[*each.group]) + " h";
    }

    [[nodiscard]] std::string work(std::size_t i) const {
        std::string text =
            "<table class=\"work\"><colgroup><col class=\"tick\"><col class=\"which\"><col>"
            "<col class=\"where\"><col class=\"hours\"></colgroup><thead><tr class=\"of\"><th "
            "colspan=\"5\">Work "
            "of sheet " +
            std::to_string(i + 1) + ": " + title(i) +
            "</th></tr><tr><th class=\"tick\">done</th><th>segment"
            "</th><th>what to do</th><th>look first</th><th>"
            "hours</th></tr></thead><tbody>\n";
        for (const ScopeSegment& segment : content_.sheets[i].segments) {
            text += in_tag("tr", in_tag("td class=\"tick\"", std::string{box}) +
                                     in_tag("td", which(segment.segment)) +
                                     in_tag("td", what(segment)) + in_tag("td", where(segment)) +
                                     in_tag("td", hours(segment))) +
                    "\n";
        }
        return text + "</tbody></table>\n";
    }

    [[nodiscard]] std::string which(std::uint32_t segment) const {
        std::string text = in_tag("p class=\"name\"", name_of(segment));
        const auto add = [&](S field, std::string_view before) {
            const std::string value = value_of(field, segment);
            if (!value.empty()) text += in_tag("p", std::string{before} + value);
        };
        add(S::line, "line ");
        add(S::drawing, "drawing ");
        std::string pipe;
        for (const S field : {S::nominal_size, S::nominal_wall, S::material}) {
            const std::string value = value_of(field, segment);
            if (!value.empty()) pipe += (pipe.empty() ? "" : ", ") + value;
        }
        text += in_tag("p", pipe);
        add(S::operating_temperature, "operating at ");
        add(S::insulation_type, "insulation ");
        add(S::elevation, "elevation ");
        return text;
    }

    [[nodiscard]] std::string value_of(S field, std::uint32_t segment) const {
        const SegmentSheet& segments = content_.plant.segments;
        if (!segments.has(field, segment)) return "";
        std::string_view word;
        if (info(field).kind == FieldKind::word) {
            word = content_.rules.vocabulary(info(field).words)
                       .words[segments.codes(field)[segment]]
                       .key;
        }
        const bool assumed = is_assumption(segments.state(field, segment));
        return told(value_text(segments, index_of(field), segment, word)) +
               (assumed ? " (assumed)" : "");
    }

    [[nodiscard]] std::string what(const ScopeSegment& segment) const {
        std::string text = in_tag("p class=\"do\"", as_markup(action(segment)));
        const auto add = [&](const std::string& before, const std::string& value) {
            if (value.empty()) return;
            text +=
                in_tag("p", in_tag("span class=\"quiet\"", before + ":") + " " + as_markup(value));
        };
        add("inspection", segment.inspection);
        add("recoat", segment.coating);
        add("take-off", segment.take_off);
        add(segment.follow_window ? "may follow in " + window_name(content_, *segment.follow_window)
                                  : "may follow",
            segment.follow_ups);
        if (segment.action == WorkAction::replace_run) {
            add("afterwards", "change in_service, nominal_wall and coating_date of the segment");
        }
        return text;
    }

    [[nodiscard]] static std::string where(const ScopeSegment& segment) {
        std::string text = "<ol>";
        for (const HotSpot& spot : segment.hot_spots) {
            text += in_tag("li", told(spot.place) + " " +
                                     in_tag("span class=\"quiet\"", "(" + told(spot.reason) + ")"));
        }
        return text + "</ol>";
    }

    [[nodiscard]] std::string hours(const ScopeSegment& segment) const {
        std::string text;
        const auto& words = content_.rules.vocabulary("craft").words;
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            const double sure = segment.hours[craft];
            const double more = segment.follow_hours[craft];
            if (sure < least_hours && more < least_hours) continue;
            text += in_tag("p", told(words[craft].key) + " " + hours_text(sure) +
                                    (more < least_hours ? "" : " + " + hours_text(more)));
        }
        const bool more = std::ranges::any_of(segment.follow_hours,
                                              [](double each) { return each >= least_hours; });
        if (more) text += in_tag("p class=\"quiet\"", "+ expected by what is found");
        return text;
    }

    [[nodiscard]] std::string cautions(const ScopeSheet& each) const {
        std::string text = "<div class=\"warn\"><h3>Cautions</h3>\n<ul class=\"ticks\">\n";
        for (const ScopeCaution& caution : each.cautions) {
            std::string names;
            for (const std::uint32_t segment : caution.segments) {
                names += (names.empty() ? "" : ", ") + name_of(segment);
            }
            const bool all = caution.segments.size() == each.segments.size();
            text += to_tick(as_markup(printable(caution.text, longest_caution)) + " <b>" +
                            (all ? "All segments of the sheet." : names + ".") + "</b>");
        }
        text += to_tick(
            "Permits, isolation, work at height, confined spaces and waste: as the site's "
            "rules and the law of the place ask. They stand before this sheet.");
        return text + "</ul>\n" +
               to_fill_in({"Permit to work, number", "Survey for asbestos and lead, number",
                           "State of the line confirmed by, date"}) +
               "</div>\n";
    }

    [[nodiscard]] std::string findings(std::size_t i) const {
        const auto fields = inspection_fields();
        std::string text = "<h3>Findings</h3>\n<table class=\"findings\"><colgroup>";
        for (std::size_t field = 0; field < fields.size(); ++field) {
            text += holds_names(field) ? "<col class=\"long\">" : "<col>";
        }
        text +=
            "</colgroup><thead><tr class=\"of\">"
            "<th colspan=\"" +
            std::to_string(fields.size()) + "\">Findings of sheet " + std::to_string(i + 1) + ": " +
            title(i) + "</th></tr><tr>";
        for (const FieldInfo& field : fields) text += in_tag("th", breakable(heading_of(field)));
        text += "</tr></thead><tbody>\n";
        for (const ScopeSegment& segment : content_.sheets[i].segments) {
            if (!is_to_be_recorded(segment)) continue;
            text += row_to_fill(name_of(segment.segment),
                                breakable(technique_of(content_.rules, segment)));
        }
        for (std::size_t spare = 0; spare < spare_rows; ++spare) text += row_to_fill("", "");
        return text + "</tbody></table>\n";
    }

    [[nodiscard]] static bool holds_names(std::size_t field) {
        return field == index_of(InspectionField::segment) ||
               field == index_of(InspectionField::technique);
    }

    [[nodiscard]] static std::string row_to_fill(const std::string& segment,
                                                 const std::string& technique) {
        std::string row;
        for (std::size_t field = 0; field < inspection_fields().size(); ++field) {
            std::string known;
            if (field == index_of(InspectionField::segment)) known = segment;
            if (field == index_of(InspectionField::technique)) known = technique;
            row += in_tag("td", known);
        }
        return in_tag("tr", row) + "\n";
    }

    const PackContent& content_;
};

}  // namespace

std::string pack_sheet(const PackContent& content, std::size_t sheet) {
    return SheetPages{content}.write(sheet);
}

}  // namespace lagline
