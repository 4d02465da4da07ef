#include "ranking/check_plant.h"

#include <algorithm>
#include <array>
#include <optional>

#include "diagnostics/text.h"
#include "quantity/unit.h"

namespace lagline {
namespace {

constexpr double months = 12.0;

/// A measure of the plant, in the unit that PlantDescription holds.
struct Measure {
    std::string_view key;
    Dimension dimension{};
    std::string_view unit;
};
constexpr std::array measures{Measure{"management_score", Dimension::number, "%"},
                              Measure{"air_temperature", Dimension::temperature, "degC"},
                              Measure{"relative_humidity", Dimension::number, "%"},
                              Measure{"annual_rainfall", Dimension::length, "mm"},
                              Measure{"coast_distance", Dimension::length, "km"}};

std::optional<double> read(const RuleCheck::Cell& cell) {
    const auto* const measure = std::ranges::find(measures, cell.key, &Measure::key);
    if (measure == measures.end()) return std::nullopt;
    const NumberReading reading = read_quantity(cell.text);
    const auto given = parse_unit(reading.unit, measure->dimension);
    if (reading.fault != NumberFault::none || reading.unit.empty() || !given) return std::nullopt;
    return convert(reading.value, *given, parse_unit(measure->unit, measure->dimension).value());
}

class PlantReader {
  public:
    PlantReader(const RuleCheck& check, Report& report) : check_(check), report_(report) {}

    PlantDescription read_all() {
        plant_.name = check_.name;
        for (const RuleCheck::Cell& cell : check_.plant) {
            if (!take(cell)) refuse(cell);
        }
        make_climate();
        return std::move(plant_);
    }

  private:
    bool take(const RuleCheck::Cell& cell) {
        if (cell.key == "cooling_tower_drift") {
            plant_.cooling_tower_drift.push_back(cell.text);
            return true;
        }
        if (cell.key == "deluge_tests") {
            plant_.deluge_tests.push_back(cell.text);
            return true;
        }
        if (cell.key == "lost_margin") return take_margin(cell);
        const auto value = read(cell);
        if (!value) return false;
        if (cell.key == "management_score") plant_.management_score_percent = value;
        if (cell.key == "air_temperature") air_degc_ = value;
        if (cell.key == "relative_humidity") humidity_percent_ = value;
        if (cell.key == "annual_rainfall") rainfall_mm_ = value;
        if (cell.key == "coast_distance") coast_km_ = value;
        return true;
    }

    // A day's, of the unit of the check's segment.
    bool take_margin(const RuleCheck::Cell& cell) {
        const NumberReading reading = read_quantity(cell.text);
        if (reading.fault != NumberFault::none || reading.unit != plant_.currency) return false;
        const auto unit = std::ranges::find(check_.segment, "unit", &RuleCheck::Cell::key);
        const std::string name = unit == check_.segment.end() ? std::string{} : unit->text;
        plant_.outages[name].lost_margin_per_day = reading.value;
        return true;
    }

    void refuse(const RuleCheck::Cell& cell) {
        report_.add({.problem = Problem::unknown_key,
                     .where = cell.place,
                     .subject = check_.name,
                     .found = "'" + printable(cell.key) + ": " + printable(cell.text) + "'",
                     .expected = "management_score: NUMBER %, air_temperature, relative_humidity, "
                                 "annual_rainfall, coast_distance, cooling_tower_drift: UNIT, "
                                 "deluge_tests: UNIT, or lost_margin: NUMBER USD (a day)",
                     .mend = "correct the key or the value",
                     .excerpt = {}});
    }

    void make_climate() {
        if (!air_degc_ && !humidity_percent_ && !rainfall_mm_ && !coast_km_) return;
        if (!air_degc_ || !humidity_percent_ || !rainfall_mm_) {
            report_.add({.problem = Problem::missing_key,
                         .where = check_.place,
                         .subject = check_.name,
                         .found = "part of a climate",
                         .expected = "air_temperature, relative_humidity and annual_rainfall",
                         .mend = "give all three, or none and no coast_distance",
                         .excerpt = {}});
            return;
        }
        Climate climate;
        climate.mean_temperature_degc.fill(*air_degc_);
        climate.relative_humidity_percent.fill(*humidity_percent_);
        climate.rainfall_mm.fill(*rainfall_mm_ / months);
        climate.coast_distance_km = coast_km_;
        plant_.climate = climate;
    }

    const RuleCheck& check_;
    Report& report_;
    PlantDescription plant_;
    std::optional<double> air_degc_;
    std::optional<double> humidity_percent_;
    std::optional<double> rainfall_mm_;
    std::optional<double> coast_km_;
};

}  // namespace

PlantDescription plant_of_check(const RuleCheck& check, Report& report) {
    return PlantReader{check, report}.read_all();
}

}  // namespace lagline
