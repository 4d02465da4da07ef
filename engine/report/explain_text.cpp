#include "report/explain_text.h"

#include <algorithm>
#include <array>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"

namespace lagline {
namespace {

constexpr std::size_t key_width = 26;
constexpr std::size_t value_width = 16;
constexpr std::size_t indent = 6;

std::string padded(std::string text, std::size_t width) {
    const std::size_t wide = display_width(text);
    if (wide < width) text.append(width - wide, ' ');
    return text;
}

std::string value_of(const ExplainedQuantity& quantity) {
    if (!quantity.number) return quantity.word;
    std::string text = short_number(*quantity.number, quantity.info->digits + 1);
    if (!quantity.unit.empty()) text += " " + quantity.unit;
    return text;
}

double number_of(const Explanation& told, std::string_view key) {
    const auto found = std::ranges::find_if(
        told.quantities, [&](const ExplainedQuantity& each) { return each.info->key == key; });
    return found == told.quantities.end() ? 0.0 : found->number.value_or(0.0);
}

class ExplanationWriter {
  public:
    ExplanationWriter(const Explanation& told, const TextStyle& style)
        : told_(told), style_(style) {}

    std::string write(const std::string& ahead) {
        head();
        std::string_view section;
        for (const ExplainedQuantity& quantity : told_.quantities) {
            if (quantity.section != section) {
                section = quantity.section;
                text_ += "\n" + coloured(section, Tone::strong, style_) + "\n";
            }
            tell(quantity);
        }
        levels();
        sweating();
        if (!ahead.empty()) {
            text_ += "\n" + coloured("The years ahead if nothing is done", Tone::strong, style_) +
                     "\n" + ahead;
        }
        hot_spots();
        inspections();
        cautions();
        return std::move(text_);
    }

  private:
    void line(std::string_view text, std::size_t hang) {
        text_ += wrapped(text, style_.width, hang) + "\n";
    }

    void head() {
        const std::string name = printable(told_.segment);
        const std::string what = "line " + printable(told_.line) + ", unit " +
                                 printable(told_.unit) + ", mechanism " + told_.mechanism;
        const bool fits = display_width(name) + 2 + display_width(what) <= style_.width;
        text_ += coloured(name, Tone::strong, style_) + (fits ? "  " + what : "") + "\n";
        if (!fits) text_ += "  " + wrapped(what, style_.width - 2, 2) + "\n";
        for (const std::string& why : told_.engineer_why) {
            text_ += coloured(wrapped("Needs an engineer now: " + why, style_.width, 2), Tone::bad,
                              style_) +
                     "\n";
        }
        const std::string today =
            told_.rank_today > 0 ? "today " + std::to_string(told_.rank_today) + "; " : "";
        line("Rank " + std::to_string(told_.rank) + " of " + std::to_string(told_.of) + " at " +
                 to_string(told_.at.date) + " (" + told_.at.reason + "); " + today +
                 to_string(told_.place),
             0);
        std::string why;
        for (const Driver& driver : told_.drivers) {
            why += (why.empty() ? "" : ", ") + to_string(driver, told_.currency);
        }
        line("Above the typical segment by: " + (why.empty() ? "nothing" : why), 2);
        line(counted(told_.assumptions, "input") +
                 " assumed, marked (assumed) below; rules: " + layers_text(told_.rule_layers),
             2);
    }

    void tell(const ExplainedQuantity& quantity) {
        const std::string head = "  " + padded(std::string{quantity.info->key} + "  ", key_width) +
                                 padded(value_of(quantity) + "  ", value_width);
        const std::string how = std::string{quantity.info->equation} + ": " + quantity.formula;
        // A formula that does not fit beside its value goes below it, not through it.
        if (display_width(head) + display_width(how) <= style_.width) {
            text_ += head + coloured(how, Tone::quiet, style_) + "\n";
        } else {
            text_ += head.substr(0, head.find_last_not_of(' ') + 1) + "\n";
            detail(how);
        }
        for (const ExplainedInput& input : quantity.inputs) {
            if (!input.is_quantity && input.state != CellState::absent) tell(input);
        }
        for (const ExplainedRule& rule : quantity.rules) tell(rule);
    }

    void tell(const ExplainedInput& input) {
        std::string text(indent, ' ');
        text += input.key + " " + printable(input.shown);
        if (is_assumption(input.state))
            text += " (assumed: " + std::string{describe(input.state)} + ")";
        if (input.state == CellState::implied)
            text += " (" + std::string{describe(input.state)} + ")";
        if (!input.replaced.empty()) {
            text +=
                " (override of " + printable(input.replaced) + ": " + printable(input.reason) + ")";
        }
        text += "  " + to_string(input.place);
        detail(text);
    }

    void tell(const ExplainedRule& rule) {
        std::string text(indent, ' ');
        text += rule.table->name;
        if (!rule.entry->key.empty()) text += ", " + rule.entry->key;
        text += " = " + (rule.entry->word.empty()
                             ? exact_number(rule.entry->printed) +
                                   (rule.table->unit == "-" ? "" : " " + rule.table->unit)
                             : rule.entry->word);
        text += " [" + std::string{to_string(rule.entry->basis)} + "]";
        if (rule.outside) text += " (outside its range)";
        if (!rule.entry->source.id.empty()) {
            text += "  " + rule.entry->source.id + ", " + rule.entry->source.where;
        }
        text += "  " + to_string(rule.entry->place);
        if (!rule.entry->reason.empty()) {
            text += rule.entry->replaced.empty() ? "  reason: "
                                                 : "  changed from " + rule.entry->replaced + ": ";
            text += rule.entry->reason;
        }
        detail(text);
    }

    void detail(const std::string& text) {
        const std::string shown =
            std::string(indent, ' ') + wrapped(trimmed(text), style_.width - indent, indent + 2);
        text_ += coloured(shown, Tone::quiet, style_) + "\n";
    }

    void levels() {
        if (told_.levels.size() < 2) return;
        text_ += "\n" + coloured("Metal temperatures over the year", Tone::strong, style_) + "\n";
        std::vector<std::vector<std::string>> rows;
        for (const ServiceLevel& level : told_.levels) {
            rows.push_back(
                {short_number(level.metal_degc, 4), short_number(100.0 * level.share, 3) + " %"});
        }
        text_ += text_table({{"degC", true, 0}, {"of the year", true, 0}}, rows, style_);
    }

    void sweating() {
        if (told_.sweating.steel == 0) return;
        text_ += "\n" + coloured("Condensation", Tone::strong, style_) + "\n";
        line("  the steel is below the dew point in: " + months(told_.sweating.steel), 4);
        line("  the jacket sweats in: " + months(told_.sweating.jacket), 4);
    }

    static std::string months(std::uint16_t bits) {
        constexpr std::array names{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                   "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
        std::string text;
        for (std::size_t month = 0; month < names.size(); ++month) {
            if ((unsigned{bits} >> month & 1U) != 0)
                text += std::string{text.empty() ? "" : " "} + names[month];
        }
        return text.empty() ? "no month" : text;
    }

    void hot_spots() {
        text_ += "\n" + coloured("Where to look first", Tone::strong, style_) + "\n";
        for (const HotSpot& spot : told_.hot_spots) {
            text_ += "  - " +
                     wrapped(printable(spot.place, 200) + " (" + printable(spot.reason, 200) + ")",
                             style_.width - 4, 4) +
                     "\n";
        }
    }

    void inspections() {
        text_ += "\n" + coloured("Inspections", Tone::strong, style_) + "\n";
        if (told_.inspections.empty()) {
            text_ += "  none on record\n";
            return;
        }
        std::vector<std::vector<std::string>> rows;
        const bool in_workbook =
            !told_.inspections.empty() && !told_.inspections.front().place.sheet.empty();
        for (const ExplainedInspection& each : told_.inspections) {
            rows.push_back(
                {to_string(each.date), each.technique, short_number(each.coverage_percent, 3),
                 each.effectiveness,
                 each.least_thickness_mm ? short_number(*each.least_thickness_mm, 3) : "",
                 each.rust_grade ? short_number(*each.rust_grade, 2) : "",
                 std::to_string(each.place.line)});
        }
        text_ += text_table({{"date", false, 0},
                             {"technique", false, 0},
                             {"%", true, 0},
                             {"eff.", false, 0},
                             {"wall mm", true, 0},
                             {"rust", true, 0},
                             {in_workbook ? "row" : "line", true, 0}},
                            rows, style_);
        text_ += "\n" + coloured("What they were used for", Tone::strong, style_) + "\n";
        for (const ExplainedInspection& each : told_.inspections) {
            text_ += "  " + wrapped(uses(each), style_.width - 2, 4) + "\n";
        }
    }

    static std::string uses(const ExplainedInspection& inspection) {
        std::string text;
        for (const std::string& use : inspection.used_for) text += (text.empty() ? "" : ", ") + use;
        if (text.empty()) text = "nothing";
        if (inspection.after_rank_date) text = "after the rank date, not used";
        return to_string(inspection.date) + ", " + line_text(inspection.place) + ": " + text;
    }

    void cautions() {
        text_ += "\n" + coloured("Cautions", Tone::strong, style_) + "\n";
        for (const std::string& each : segment_cautions(told_)) caution(each);
        for (const std::string_view each : field_cautions) caution(each);
        caution(screening_caution);
    }

    void caution(std::string_view text) {
        text_ += "  - " + wrapped(text, style_.width - 4, 4) + "\n";
    }

    const Explanation& told_;
    const TextStyle& style_;
    std::string text_;
};

}  // namespace

std::vector<std::string> segment_cautions(const Explanation& told) {
    std::vector<std::string> cautions;
    if (told.mechanism == cracking_mechanism) {
        cautions.emplace_back(
            "Cracks do not show as loss of wall: look with penetrant or a suitable ultrasonic or "
            "eddy-current technique.");
    }
    const double left = number_of(told, "expected_wall");
    const double minimum = number_of(told, "minimum_thickness");
    if (told.mechanism == wall_loss_mechanism && left < told.thin_wall_ratio * minimum) {
        cautions.push_back("The expected wall of " + short_number(std::max(0.0, left), 3) +
                           " mm is near or below the minimum of " + short_number(minimum, 3) +
                           " mm: do not strip it in service.");
    }
    std::string service = service_caution(told.fluid_class, told.hazard, told.hazard_meaning);
    if (!service.empty()) cautions.push_back(std::move(service));
    return cautions;
}

std::string explain_text(const Explanation& told, const TextStyle& style,
                         const std::string& ahead) {
    return ExplanationWriter{told, style}.write(ahead);
}

}  // namespace lagline
