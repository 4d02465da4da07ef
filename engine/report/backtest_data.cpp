#include "report/backtest_data.h"

#include "blocks/number_text.h"
#include "report/backtest_text.h"
#include "report/cautions.h"
#include "report/csv_text.h"
#include "report/json_writer.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

void write_gains(JsonWriter& json, const OrderGains& gains, double best) {
    json.key("orders");
    json.begin_array();
    for (const OpeningOrder order : opening_orders) {
        const OrderGain& gain = gains[static_cast<std::size_t>(order)];
        if (gain.curve.empty()) continue;
        json.begin_object();
        json.member("order", key_of(order));
        json.member("meaning", describe(order));
        json.member_flag("naive", is_naive(order));
        json.member("area", gain.area);
        json.member("area_standard_error", gain.area_error);
        json.key("curve");
        json.begin_array();
        for (const GainPoint& point : gain.curve) {
            json.begin_object();
            json.member("opened", point.opened);
            json.member("met", point.met);
            json.end_object();
        }
        json.end_array();
        json.end_object();
    }
    json.end_array();
    json.member("best_area", best);
}

void write_dates(JsonWriter& json, const Backtest& test) {
    json.key("dates");
    json.begin_array();
    for (const PastDate& date : test.dates) {
        json.begin_object();
        json.member("at", to_string(date.at));
        json.member("until", to_string(date.until));
        json.member_flag("window_open", date.window_open);
        json.member_count("ranked", date.ranked);
        json.member_count("looked_at", date.looked.size());
        json.member_count("findings", date.found);
        json.member_count("not_in_service", date.not_in_service);
        json.member_count("coatings_later", date.coatings_later);
        json.member_count("insulation_later", date.insulation_later);
        write_gains(json, date.gains, date.best_area);
        json.end_object();
    }
    json.end_array();
}

void write_calibration(JsonWriter& json, const Backtest& test) {
    json.key("calibration");
    json.begin_array();
    for (const CalibrationBand& band : test.bands) {
        json.begin_object();
        json.member("from", band.from);
        json.member("to", band.to);
        json.member_count("segments", band.count);
        json.member("stated", band.predicted);
        json.member_count("findings", band.happened);
        json.member("share", band.observed());
        json.member("share_low_90", band.interval.low);
        json.member("share_high_90", band.interval.high);
        json.end_object();
    }
    json.end_array();
    if (test.bands.empty()) return;
    json.key("brier");
    json.begin_object();
    json.member("score", test.brier.score);
    json.member("reliability", test.brier.reliability);
    json.member("resolution", test.brier.resolution);
    json.member("uncertainty", test.brier.uncertainty);
    json.member("within_bands", test.brier.within);
    json.member("skill", test.brier.skill());
    json.end_object();
}

}  // namespace

std::string backtest_json(const Plant& plant, const RuleSet& rules, const Backtest& test) {
    JsonWriter json;
    json.begin_document();
    json.member("plant", plant.description.name);
    json.member_texts("rules", rules.layers);
    json.member("mechanism", test.cracking ? "stress_cracking" : "wall_loss");
    json.member_count("within_years", static_cast<std::size_t>(test.within_years));
    json.member_count("looked_at", test.looked);
    json.member_count("findings", test.found);
    json.member("caution", screening_caution);
    json.key("notes");
    json.begin_array();
    for (const std::string& note : backtest_notes(test, rules)) json.text(note);
    json.end_array();
    write_gains(json, test.gains, test.best_area);
    write_calibration(json, test);
    write_dates(json, test);
    json.end_object();
    return json.take() + "\n";
}

std::string backtest_csv(const Plant& plant, const Backtest& test) {
    std::string csv = "ranked_at,until,segment,line,unit,inspected,found,chance";
    for (const OpeningOrder order : opening_orders) {
        csv.append(",score_").append(key_of(order));
    }
    csv += '\n';
    for (const PastDate& date : test.dates) {
        for (const LookedSegment& each : date.looked) {
            csv += to_string(date.at) + "," + to_string(date.until);
            for (const S field : {S::segment, S::line, S::unit}) {
                csv += ',';
                append_csv_text(csv, plant.segments.texts(field)[each.segment]);
            }
            csv += "," + to_string(Date{plant.inspections.days(I::date)[each.inspection]});
            csv += each.found ? ",yes," : ",no,";
            if (!test.cracking) append_number(csv, each.chance);
            for (const OpeningOrder order : opening_orders) {
                csv += ',';
                if (test.cracking && order == OpeningOrder::chance) continue;
                append_number(csv, each.score[static_cast<std::size_t>(order)]);
            }
            csv += '\n';
        }
    }
    return csv;
}

}  // namespace lagline
