#include "degradation/readings.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <limits>

#include "degradation/history.h"
#include "intake/cell.h"
#include "intake/cell_place.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using I = InspectionField;
using S = SegmentField;

constexpr std::array needs{
    TableNeed{.name = "reading_accepted",
              .kind = TableKind::lookup,
              .by = "effectiveness",
              .gives = "yes_no"},
    TableNeed{.name = "reading_tolerance",
              .kind = TableKind::lookup,
              .dimension = Dimension::length,
              .by = "technique"},
    TableNeed{.name = "growing_reading", .kind = TableKind::value, .gives = "growing_reading"},
    TableNeed{
        .name = "rate_interval_least", .kind = TableKind::value, .dimension = Dimension::time},
};

/// The wall that the next reading is compared with.
class FoundBefore {
  public:
    explicit FoundBefore(const ReadingRules& rules) : rules_(rules) {}

    /// Marks the reading, and takes it as the wall found before the next one where it is that.
    void compare(Reading& reading) {
        const double tolerance_mm = std::max(rules_.tolerance->value(reading.technique),
                                             any_ ? rules_.tolerance->value(technique_) : 0.0);
        reading.conflicts = any_ && reading.accepted && reading.wall_mm > wall_mm_ + tolerance_mm;
        if (reading.conflicts) reading.before_mm = wall_mm_;
        reading.set_aside = reading.conflicts && rules_.keeps_smaller;
        const bool no_comfort = any_ && !reading.accepted && reading.wall_mm > wall_mm_;
        if (reading.set_aside || no_comfort) return;
        any_ = true;
        wall_mm_ = reading.wall_mm;
        technique_ = reading.technique;
    }

  private:
    const ReadingRules& rules_;
    bool any_ = false;
    double wall_mm_ = 0.0;
    std::uint8_t technique_ = 0;
};

// Of one day the thinner wall stands, whatever cell it was read from.
void add_thinner_last(const Reading& reading, std::vector<Reading>& readings) {
    auto place = readings.end();
    while (place != readings.begin() && std::prev(place)->day == reading.day &&
           std::prev(place)->wall_mm < reading.wall_mm) {
        --place;
    }
    readings.insert(place, reading);
}

void warn(const Plant& plant, const Reading& reading, Report& report) {
    const bool thickness = plant.inspections.has(I::least_thickness, reading.row);
    const I field = thickness ? I::least_thickness : I::pit_depth;
    add_at_cell(
        report, plant.inspections, index_of(field), reading.row, Severity::warning,
        Problem::contradiction, "a wall of " + shown(info(I::least_thickness), reading.wall_mm),
        "not above the " + shown(info(I::least_thickness), reading.before_mm) +
            " found before it, beyond the tolerance of the techniques",
        reading.set_aside
            ? "check both readings; this one is set aside. Enter a pipe that was replaced as "
              "a segment of its own"
            : "check both readings; this one is used. Enter a pipe that was replaced as a "
              "segment of its own");
}

}  // namespace

std::optional<double> wall_read_mm(const Plant& plant, std::uint32_t segment, std::uint32_t row) {
    if (plant.inspections.has(I::least_thickness, row)) {
        return plant.inspections.numbers(I::least_thickness)[row];
    }
    if (!plant.inspections.has(I::pit_depth, row)) return std::nullopt;
    const double nominal = plant.segments.numbers(S::nominal_wall)[segment];
    return std::max(0.0, nominal - plant.inspections.numbers(I::pit_depth)[row]);
}

std::span<const TableNeed> reading_needs() { return needs; }

ReadingRules reading_rules(const RuleSet& rules) {
    return {&rules.lookup("reading_accepted"), &rules.lookup("reading_tolerance"),
            rules.value("growing_reading").word() == "keep",
            rules.value("rate_interval_least").value()};
}

void read_readings(const Plant& plant, std::uint32_t segment, Date until,
                   std::span<const std::uint8_t> effectiveness, const ReadingRules& rules,
                   std::vector<Reading>& readings) {
    constexpr double percent = 100.0;
    readings.clear();
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        const auto wall = wall_read_mm(plant, segment, row);
        if (!wall) continue;
        Reading reading;
        reading.row = row;
        reading.day = day;
        reading.wall_mm = *wall;
        reading.share = plant.inspections.numbers(I::coverage)[row] / percent;
        reading.technique = plant.inspections.codes(I::technique)[row];
        reading.effectiveness = effectiveness[row];
        reading.accepted = rules.accepted->code(effectiveness[row]) != 0;
        add_thinner_last(reading, readings);
    }
    FoundBefore before{rules};
    for (Reading& reading : readings) before.compare(reading);
}

void report_conflicting_readings(const Plant& plant, const RuleSet& rules, Report& report) {
    if (plant.inspections.rows() == 0) return;
    const auto effectiveness = inspection_effectiveness(plant, rules);
    const ReadingRules taken = reading_rules(rules);
    const Date ever{std::numeric_limits<std::int32_t>::max()};
    std::vector<Reading> readings;
    for (std::uint32_t segment = 0; segment < plant.segments.rows(); ++segment) {
        if (!plant.segments.has(S::nominal_wall, segment)) continue;
        read_readings(plant, segment, ever, effectiveness, taken, readings);
        for (const Reading& reading : readings) {
            if (reading.conflicts) warn(plant, reading, report);
        }
    }
}

}  // namespace lagline
