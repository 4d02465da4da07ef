#include "report/empty_columns_text.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "blocks/number_text.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

constexpr double percent = 100.0;
constexpr double rounding = 1e-9;

std::string share_text(double share) {
    const double rounded = std::round(percent * share);
    if (share > 0.0 && rounded < 1.0) return "<1 %";
    return short_number(rounded, 4) + " %";
}

std::string effect_text(double effect) {
    return std::isinf(effect) ? "from 0" : "x" + short_number(effect, 3);
}

bool has_effect(const WeighedCells& weighed) {
    const auto [least, most] = std::ranges::minmax(weighed.values, {}, &TriedCells::effect);
    return most.effect - least.effect > rounding;
}

std::string_view standing(const WeighedCells& weighed) {
    if (weighed.values.empty()) return "an answer";
    if (!has_effect(weighed)) return "no effect";
    if (!weighed.cautious()) return "flatters";
    return std::abs(weighed.median - 1.0) < rounding ? "median" : "cautious";
}

std::string worse_text(const WeighedCells& weighed) {
    if (weighed.values.empty() || !has_effect(weighed)) return "";
    return share_text(weighed.worse);
}

std::string values_text(const WeighedCells& weighed) {
    auto values = weighed.values;
    std::ranges::stable_sort(values, {}, &TriedCells::effect);
    std::string text;
    for (const TriedCells& value : values) {
        if (!text.empty()) text += ", ";
        text += (value.text.empty() ? "-" : value.text) + " " + effect_text(value.effect) + " (" +
                share_text(value.share) + ")";
    }
    return text;
}

std::string reference_text() {
    const TriedSegment reference = reference_segment();
    std::string text;
    for (const auto& [key, cell] : reference.cells) {
        if (key == "line" || key == "unit") continue;
        text += (text.empty() ? "" : ", ") + key + " " + cell;
    }
    return text + ", ranked at " + to_string(reference.at);
}

}  // namespace

std::string empty_columns_text(const RuleSet& rules, const std::vector<EmptyColumn>& columns,
                               const TextStyle& style) {
    std::string text = coloured("What an empty cell takes, rule set " + layers_text(rules.layers),
                                Tone::strong, style) +
                       "\n";
    text += wrapped("Reference segment: " + reference_text() + ".", style.width, 2) + "\n\n";
    std::vector<std::vector<std::string>> rows;
    for (const EmptyColumn& column : columns) {
        rows.push_back({std::string{segment_fields()[column.field].key}, column.taken,
                        std::string{standing(column.weighed)}, worse_text(column.weighed),
                        column.basis});
    }
    text += text_table({{"column", false, 0},
                        {"empty takes", false, 24},
                        {"stands", false, 0},
                        {"worse", true, 0},
                        {"basis", false, 0}},
                       rows, style);
    text += "\n" +
            wrapped(
                "stands: at the median of what may stand there, or on the cautious side of "
                "it; `worse` is the share of pipes with a greater risk. `an answer`: an "
                "empty cell says that there is none, or is worked out from other columns.",
                style.width, 0) +
            "\n";
    text += "\n" +
            wrapped(
                "What may stand there: the risk over that with the cell empty, and how "
                "common it is.",
                style.width, 0) +
            "\n";
    for (const EmptyColumn& column : columns) {
        const std::string key{segment_fields()[column.field].key};
        const std::string what =
            column.weighed.values.empty() ? column.reason : values_text(column.weighed);
        text += wrapped("  " + key + ": " + what, style.width, 6) + "\n";
    }
    return text;
}

std::string empty_columns_json(const RuleSet& rules, const std::vector<EmptyColumn>& columns) {
    JsonWriter json;
    json.begin_object();
    json.key("rules");
    json.begin_array();
    for (const std::string& layer : rules.layers) json.text(layer);
    json.end_array();
    const TriedSegment reference = reference_segment();
    json.key("reference");
    json.begin_object();
    for (const auto& [key, cell] : reference.cells) json.member(key, cell);
    json.member("rank_date", to_string(reference.at));
    json.end_object();
    json.key("columns");
    json.begin_array();
    for (const EmptyColumn& column : columns) {
        json.begin_object();
        json.member("column", segment_fields()[column.field].key);
        json.member("takes", column.taken);
        json.member("stands", standing(column.weighed));
        json.member("basis", column.basis);
        json.member("reason", column.reason);
        if (!column.weighed.values.empty()) {
            json.member("worse_share", column.weighed.worse);
            if (std::isfinite(column.weighed.median)) {
                json.member("median_effect", column.weighed.median);
            }
        }
        json.key("values");
        json.begin_array();
        for (const TriedCells& value : column.weighed.values) {
            json.begin_object();
            json.member("value", value.text);
            json.member("share", value.share);
            if (std::isfinite(value.effect)) json.member("effect", value.effect);
            json.end_object();
        }
        json.end_array();
        json.end_object();
    }
    json.end_array();
    json.end_object();
    return json.take();
}

}  // namespace lagline
