#include "blocks/number_text.h"
#include "report/html/markup.h"
#include "report/html/pack_parts.h"

namespace lagline {
namespace {

std::string content_of(const FieldInfo& field) {
    switch (field.kind) {
        case FieldKind::text:
        case FieldKind::pipe_size:
            return "text";
        case FieldKind::date:
            return "day as YYYY-MM-DD";
        case FieldKind::flag:
            return "yes or no";
        case FieldKind::quantity:
            return short_number(field.least, 6) + " to " + short_number(field.most, 6) +
                   (field.unit.empty() ? "" : " " + as_markup(field.unit));
        case FieldKind::word:
            return "a word of the list below";
    }
    return "";
}

std::string words(const RuleSet& rules, std::string_view vocabulary) {
    std::string text = "<div><h3>" + breakable(vocabulary) + "</h3>\n<table><tbody>\n";
    for (const Word& word : rules.vocabulary(vocabulary).words) {
        text += in_tag("tr",
                       in_tag("th", as_markup(word.key)) + in_tag("td", as_markup(word.meaning))) +
                "\n";
    }
    return text + "</tbody></table></div>";
}

}  // namespace

std::string pack_guide(const RuleSet& rules) {
    std::string text =
        "<section class=\"page guide\">\n<h2>How to fill in the findings</h2>\n"
        "<p>The columns are those of <code>inspections.csv</code>. An empty cell means: not "
        "looked at, not known. One row for a segment, a day and a technique; where several "
        "places were measured, the least thickness, the deepest pit and the whole coverage. "
        "Strike out a technique that was not used.</p>\n"
        "<p>To take the findings over: <code>lagline plan FOLDER --format findings --out "
        "findings.csv</code> gives the same table to type them into, <code>lagline record "
        "FOLDER findings.csv</code> checks it and adds it to the records. The whole recoat "
        "specification of a segment: <code>lagline recoat FOLDER SEGMENT</code>.</p>\n"
        "<table><thead><tr><th>column</th><th>meaning</th><th>holds</th><th>if empty</th><th>"
        "example</th></tr></thead><tbody>\n";
    for (const FieldInfo& field : inspection_fields()) {
        text += in_tag("tr", in_tag("th", breakable(heading_of(field))) +
                                 in_tag("td", as_markup(field.meaning)) +
                                 in_tag("td", content_of(field)) +
                                 in_tag("td", field.needed ? "needed" : as_markup(field.absent)) +
                                 in_tag("td", as_markup(field.example))) +
                "\n";
    }
    return text + "</tbody></table>\n<div class=\"pair\">" + words(rules, "technique") +
           words(rules, "jacket_damage") + "</div>\n</section>\n";
}

}  // namespace lagline
