#include "report/html/work_pack.h"

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/html/markup.h"
#include "report/html/pack_parts.h"
#include "report/html/page_assets.h"
#include "report/own_output.h"

namespace lagline {
namespace {

// Longest text of the plant that is told on paper.
constexpr std::size_t longest = 120;

}  // namespace

std::string told(std::string_view text) { return as_markup(printable(text, longest)); }

std::string in_tag(std::string_view tag, const std::string& content) {
    const std::string_view name = tag.substr(0, tag.find(' '));
    std::string made = "<";
    made.append(tag).append(">").append(content).append("</").append(name).append(">");
    return made;
}

std::string breakable(std::string_view heading) {
    std::string text;
    for (const char each : as_markup(heading)) {
        text += each;
        if (each == '_') text += "<wbr>";
    }
    return text;
}

std::string to_tick(const std::string& text) {
    return "<li>" + std::string{box} + in_tag("span", text) + "</li>\n";
}

std::string window_name(const PackContent& content, std::size_t window) {
    return told(content.plan.windows[window].name);
}

std::string days_of(const PlanWindow& window) {
    return to_string(window.start) + " to " + to_string(window.end);
}

std::string_view state_of(const PlanWindow& window) {
    return window.state == WorkState::shutdown ? "plant shut down" : "plant running";
}

std::string scaffold_height(const PackContent& content, const ScopeSheet& sheet) {
    return short_number(content.plan.groups.elevation_m[*sheet.group], 3) + " m";
}

std::string work_pack(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                      const Plan& plan, std::optional<std::size_t> window,
                      std::string_view version) {
    const PageAssets& assets = page_assets();
    const auto sheets = scope_sheets(plant, rules, ranking, plan, window);
    std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    page +=
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '" +
        std::string{assets.pack_style_hash} + "'; base-uri 'none'; form-action 'none'\">\n";
    page += html_mark;
    page += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    page += in_tag("title", told(plant.description.name) + ": Lagline work pack") + "\n";
    page += in_tag("style", std::string{assets.pack_style}) + "\n</head>\n<body>\n";
    const PackContent content{plant, rules, ranking, plan, sheets};
    page += pack_cover(content, version) + pack_guide(rules);
    for (std::size_t i = 0; i < sheets.size(); ++i) page += pack_sheet(content, i);
    return page + "</body>\n</html>\n";
}

}  // namespace lagline
