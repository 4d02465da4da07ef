#include "synthesis/site_files.h"

#include <array>

#include "synthesis/csv_writer.h"

namespace lagline {
namespace {

// A temperate coast, invented.
constexpr std::string_view description = R"(name: Quellmarsh Point Works (invented)
currency: EUR
exchange: {USD: 0.92}

climate:
  mean_temperature: {unit: degC, values: [4.1, 4.4, 6.3, 8.9, 12.6, 15.4, 17.5, 17.6, 15.2, 11.6, 7.6, 5.0]}
  relative_humidity: {unit: "%", values: [87, 85, 82, 79, 77, 78, 79, 80, 82, 85, 88, 88]}
  rainfall: {unit: mm, values: [74, 56, 59, 47, 56, 64, 71, 83, 79, 92, 88, 83]}
  coast_distance: 0.4 km
  wind_speed: 5.2 m/s

management_score: 62 %
cooling_tower_drift: [U6]

unit_costs:
  strip_and_reinsulate: {value: 310, per: m}
  recoat: {value: 165, per: m2}
  replace_run: {value: 1450, per: m}
  inspect_stripped: {value: 48, per: m}
  screen: {value: 36, per: m}
  fitting: {value: 185, per: fitting}
  scaffold_group: {value: 2600, per: each}

crew_rates:
  scaffold: {value: 58, per: hour}
  insulation: {value: 56, per: hour}
  coating: {value: 61, per: hour}
  inspection: {value: 84, per: hour}
  welding: {value: 78, per: hour}

outage:
  U1: {days: 2, lost_margin: {value: 60000, per: day}}
  U2: {days: 5, lost_margin: {value: 120000, per: day}}
  U3: {days: 4, lost_margin: {value: 55000, per: day}}
  U4: {days: 1.5, lost_margin: {value: 900, per: hour}}
  U5: {days: 2, lost_margin: {value: 18000, per: day}}
  U6: {days: 1}

criteria:
  risk: {value: 200000, per: year}
)";

struct Window {
    std::string_view name;
    std::string_view kind;
    Date start;
    Date end;
    double eur;                   ///< a segment of the plant
    std::array<double, 5> hours;  ///< a segment: scaffold, insulation, coating, inspection, welding
};
constexpr std::array windows{
    Window{"TA-2027",
           "turnaround",
           make_date(2027, 4, 5),
           make_date(2027, 5, 9),
           1500,
           {4.0, 3.0, 2.5, 1.5, 4.0}},
    Window{"OS-2028",
           "on_stream",
           make_date(2028, 6, 1),
           make_date(2028, 8, 31),
           400,
           {1.2, 1.0, 0.6, 0.6, 0.5}},
    Window{"TA-2030",
           "turnaround",
           make_date(2030, 4, 8),
           make_date(2030, 5, 12),
           1600,
           {4.5, 3.4, 2.8, 1.6, 4.8}},
};

}  // namespace

std::string synthetic_plant_yaml(const SynthesisOptions& options) {
    std::string text = "# Invented data, made by: lagline synthesise --segments ";
    append_padded(text, options.segments, 1);
    if (options.inspections != 0) {
        text += " --inspections ";
        append_padded(text, options.inspections, 1);
    }
    text += " --seed ";
    append_padded(text, options.seed, 1);
    text += '\n';
    text += description;
    return text;
}

std::string synthetic_turnarounds(const SynthesisOptions& options) {
    std::string text;
    CsvWriter out(text);
    out.headings(turnaround_fields(), synthetic_currency);
    const auto segments = static_cast<double>(options.segments);
    for (const auto& window : windows) {
        out.text(true, window.name);
        out.word(true, window.kind);
        out.date(true, window.start);
        out.date(true, window.end);
        out.number(true, window.eur * segments, 0);
        for (const double hours : window.hours) out.number(true, hours * segments, 0);
        out.end_row();
    }
    return text;
}

}  // namespace lagline
