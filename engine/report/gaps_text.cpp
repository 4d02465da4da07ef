#include "report/gaps_text.h"

#include <set>
#include <string_view>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

using S = SegmentField;

std::size_t distinct(std::span<const std::string_view> texts) {
    return std::set<std::string_view>{texts.begin(), texts.end()}.size();
}

std::string percent(std::size_t count, std::size_t of) {
    const std::size_t share = of == 0 ? 0 : (200 * count + of) / (2 * of);  // rounded
    return count > 0 && share == 0 ? "<1 %" : std::to_string(share) + " %";
}

}  // namespace

std::string plant_summary(const Plant& plant, const TextStyle& style) {
    std::string text = coloured(printable(plant.description.name), Tone::strong, style) + "\n";
    const std::string holds = counted(plant.segments.rows(), "segment") + " on " +
                              counted(distinct(plant.segments.texts(S::line)), "line") + " in " +
                              counted(distinct(plant.segments.texts(S::unit)), "unit") + "; " +
                              counted(plant.inspection_order.size(), "inspection") + "; " +
                              counted(plant.turnarounds.rows(), "window") + "; " +
                              counted(plant.applied_overrides.size(), "override") + " in force.";
    return text + wrapped(holds, style.width, 0) + "\n" +
           wrapped(
               "Ranks at " + to_string(plant.ranked_at.date) + " (" + plant.ranked_at.reason + ").",
               style.width, 0) +
           "\n";
}

std::string gaps_text(const std::vector<Gap>& gaps, std::size_t segments, const TextStyle& style) {
    if (gaps.empty()) return "No gaps: every value that the method reads is given.\n";
    std::string text = coloured("Gaps in segments.csv, and what is taken", Tone::strong, style);
    text += "\n";
    std::vector<std::vector<std::string>> rows;
    for (const Gap& gap : gaps) {
        rows.push_back(
            {std::string{segment_fields()[gap.field].key}, std::to_string(gap.count),
             percent(gap.count, segments), gap.taken,
             std::string{describe(gap.state)} + (gap.basis.empty() ? "" : ", " + gap.basis)});
    }
    text += text_table({{"column", false, 0},
                        {"segments", true, 0},
                        {"share", true, 0},
                        {"takes", false, 34},
                        {"from", false, 0}},
                       rows, style);
    std::string reasons;
    for (const Gap& gap : gaps) {
        if (gap.reason.empty()) continue;
        reasons += wrapped("  " + std::string{segment_fields()[gap.field].key} + ": " + gap.reason,
                           style.width, 4) +
                   "\n";
    }
    if (!reasons.empty()) {
        text += "\n" + coloured("Why these values", Tone::strong, style) + "\n" + reasons;
    }
    return text;
}

std::string margin_gaps_text(const std::vector<MarginGap>& gaps, const RuleSet& rules,
                             const TextStyle& style) {
    if (gaps.empty()) return "";
    std::string units;
    std::size_t count = 0;
    for (const MarginGap& gap : gaps) {
        units += (units.empty() ? "" : ", ") + printable(gap.unit);
        count += gap.count;
    }
    const ValueTable& margin = rules.value("lost_margin");
    return wrapped("Margin lost in an outage: plant.yaml gives none for " + units + " (" +
                       counted(count, "segment") + "); " +
                       exact_number(margin.entries.front().printed) + " " + margin.info.unit +
                       " a day of the rules is taken.",
                   style.width, 0) +
           "\n";
}

std::string check_json(const Report& report, const std::vector<Gap>& gaps, std::size_t segments,
                       const std::vector<MarginGap>& margins,
                       std::span<const EngineerText> engineer) {
    JsonWriter json;
    json.begin_object();
    json.key("report");
    json.raw(to_json(report));
    json.member_count("segments", segments);
    write_engineer_list(json, engineer);
    json.key("gaps");
    json.begin_array();
    for (const Gap& gap : gaps) {
        json.begin_object();
        json.member("column", segment_fields()[gap.field].key);
        json.member("state", describe(gap.state));
        json.member_count("segments", gap.count);
        json.member("taken", gap.taken);
        json.member("reason", gap.reason);
        json.member("basis", gap.basis);
        json.place(gap.place);
        json.end_object();
    }
    json.end_array();
    json.key("units_without_lost_margin");
    json.begin_array();
    for (const MarginGap& gap : margins) {
        json.begin_object();
        json.member("unit", gap.unit);
        json.member_count("segments", gap.count);
        json.end_object();
    }
    json.end_array();
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
