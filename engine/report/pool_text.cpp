#include "report/pool_text.h"

#include <algorithm>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/csv_text.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

using S = SegmentField;

std::string interval_text(const Interval& interval) {
    return short_number(interval.low, 3) + " to " + short_number(interval.high, 3);
}

std::string groups_table(const RateFactors& factors, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const RateFactor& each : factors.groups) {
        const bool pooled = factors.refusal.empty();
        rows.push_back({printable(each.group, 30), std::to_string(each.readings),
                        std::to_string(each.told), short_number(each.own, 3),
                        each.own_interval ? interval_text(*each.own_interval) : "-",
                        pooled ? short_number(each.factor, 3) : "-",
                        pooled ? interval_text(each.interval) : "-",
                        pooled ? short_number(100.0 * each.shrinkage, 2) + " %" : "-"});
    }
    return text_table({{std::string{segment_fields()[factors.field].key}, false, 22},
                       {"readings", true, 0},
                       {"told", true, 0},
                       {"own", true, 0},
                       {"90 %", true, 0},
                       {"pooled", true, 0},
                       {"90 %", true, 0},
                       {"drawn", true, 0}},
                      rows, style);
}

std::string sources_line(const RateFactors& factors) {
    return std::to_string(factors.ratios.size()) + " of " +
           counted(factors.with_reading, "segment") + " with a reading that counts were used; of " +
           counted(factors.too_early, "segment") + " the method expects less than " +
           short_number(factors.least_expected_mm, 3) +
           " mm so far, which teaches nothing. A loss below " +
           short_number(factors.least_told_mm, 3) + " mm counts as half of that.";
}

}  // namespace

std::string learned_name(const RateFactors& factors) {
    return "learned_by_" + std::string{segment_fields()[factors.field].key};
}

std::string untold_note(const RateFactors& factors) {
    const auto told =
        static_cast<std::size_t>(std::ranges::count(factors.ratios, true, &RateRatio::told));
    if (2 * told >= factors.ratios.size()) return "";
    return "Only " + std::to_string(told) + " of " + std::to_string(factors.ratios.size()) +
           " losses could be told: these factors hang on what is taken for the others.";
}

std::string pool_text(const Plant& plant, const RateFactors& factors, const TextStyle& style) {
    const auto paragraph = [&](const std::string& text) {
        return wrapped(text, style.width, 0) + "\n";
    };
    std::string text = coloured(printable(plant.description.name), Tone::strong, style) + "\n";
    text += paragraph("Measured over expected loss of wall, by " +
                      std::string{segment_fields()[factors.field].key} +
                      ": above 1 the steel corroded faster than the rules say, below 1 slower.");
    text += "\n" + groups_table(factors, style) + "\n";
    text += paragraph(sources_line(factors) + " " + untold_note(factors));
    if (!factors.refusal.empty()) {
        return text + paragraph("No factors are offered: " + factors.refusal + ".");
    }
    text += paragraph(
        "own: by the group's readings alone; pooled: drawn towards all groups together (" +
        short_number(factors.common, 3) +
        ") by the share under `drawn`, the more the fewer readings; told: losses large enough to "
        "be seen. Standard deviation of the logarithms within a group " +
        short_number(factors.spread_within, 3) + ", between groups " +
        short_number(factors.spread_between, 3) + ".");
    text += paragraph(
        "Factors are middles: half of the segments of a group corrode faster than its factor says, "
        "and those that were read were chosen by people. A factor below 1 lowers every risk of its "
        "group. Nothing here is applied: --overlay FILE writes a file that acts only where it is "
        "put into the rules folder of the plant.");
    return text + "\n" + coloured(wrapped(screening_caution, style.width, 0), Tone::quiet, style) +
           "\n";
}

std::string pool_csv(const RateFactors& factors) {
    std::string csv{segment_fields()[factors.field].key};
    csv +=
        ",readings,told,own_factor,own_low_90,own_high_90,factor,factor_low_90,factor_high_90,"
        "shrinkage\n";
    for (const RateFactor& each : factors.groups) {
        append_csv_text(csv, each.group);
        for (const std::size_t count : {each.readings, each.told}) {
            csv += "," + std::to_string(count);
        }
        csv += ',';
        append_number(csv, each.own);
        csv += ',';
        if (each.own_interval) append_number(csv, each.own_interval->low);
        csv += ',';
        if (each.own_interval) append_number(csv, each.own_interval->high);
        for (const double number :
             {each.factor, each.interval.low, each.interval.high, each.shrinkage}) {
            csv += ',';
            if (factors.refusal.empty()) append_number(csv, number);
        }
        csv += '\n';
    }
    return csv;
}

std::string pool_json(const Plant& plant, const RateFactors& factors) {
    JsonWriter json;
    json.begin_document();
    json.member("plant", plant.description.name);
    json.member("by", segment_fields()[factors.field].key);
    json.member("refusal", factors.refusal);
    json.member("learned", to_string(factors.learned));
    json.member("common_factor", factors.common);
    json.member("spread_within", factors.spread_within);
    json.member("spread_between", factors.spread_between);
    json.member_count("with_reading", factors.with_reading);
    json.member_count("too_early", factors.too_early);
    json.member("caution", screening_caution);
    json.key("groups");
    json.begin_array();
    for (const RateFactor& each : factors.groups) {
        json.begin_object();
        json.member("group", each.group);
        json.member_count("readings", each.readings);
        json.member_count("told", each.told);
        json.member("own_factor", each.own);
        if (each.own_interval) {
            json.member("own_low_90", each.own_interval->low);
            json.member("own_high_90", each.own_interval->high);
        }
        if (factors.refusal.empty()) {
            json.member("factor", each.factor);
            json.member("factor_low_90", each.interval.low);
            json.member("factor_high_90", each.interval.high);
            json.member("shrinkage", each.shrinkage);
        }
        json.end_object();
    }
    json.end_array();
    json.key("segments");
    json.begin_array();
    for (const RateRatio& each : factors.ratios) {
        json.begin_object();
        json.member("segment", plant.segments.texts(S::segment)[each.segment]);
        json.member("expected_loss_mm", each.expected_loss_mm);
        json.member("measured_loss_mm", each.measured_loss_mm);
        json.member_flag("told", each.told);
        json.member("log_ratio", each.log_ratio);
        json.end_object();
    }
    json.end_array();
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
