#include "intake/consistency.h"

#include <cmath>
#include <map>
#include <string_view>

#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/cell_place.h"
#include "intake/reports_in_order.h"
#include "quantity/date.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

// Mill over-tolerance and a careless reading together stay below this.
constexpr double most_wall_over_nominal = 1.3;
constexpr double most_diameter_deviation = 0.03;

using F = SegmentField;

std::string shown_cell(const SegmentSheet& segments, F field, std::size_t row) {
    return shown(info(field), segments.numbers(field)[row]);
}

bool both(const SegmentSheet& segments, F a, F b, std::size_t row) {
    return segments.has(a, row) && segments.has(b, row);
}

void check_segment(const SegmentSheet& segments, std::size_t row, Report& report) {
    const auto refuse = [&](F field, Severity severity, std::string expected) {
        add_at_cell(report, segments, index_of(field), row, severity, Problem::contradiction,
                    shown_cell(segments, field, row), std::move(expected),
                    "correct this cell or the other one");
    };
    if (both(segments, F::temperature_low, F::temperature_high, row) &&
        segments.numbers(F::temperature_low)[row] > segments.numbers(F::temperature_high)[row]) {
        refuse(F::temperature_low, Severity::error,
               "at most temperature_high, " + shown_cell(segments, F::temperature_high, row));
    }
    if (both(segments, F::nominal_wall, F::outside_diameter, row) &&
        2.0 * segments.numbers(F::nominal_wall)[row] >=
            segments.numbers(F::outside_diameter)[row]) {
        refuse(F::nominal_wall, Severity::error,
               "less than half the outside diameter, " +
                   shown_cell(segments, F::outside_diameter, row));
    }
    if (both(segments, F::nominal_size, F::outside_diameter, row)) {
        const PipeSize& size = pipe_sizes()[segments.codes(F::nominal_size)[row]];
        const double given = segments.numbers(F::outside_diameter)[row];
        if (std::abs(given - size.outside_mm) > most_diameter_deviation * size.outside_mm) {
            refuse(
                F::outside_diameter, Severity::warning,
                shown(info(F::outside_diameter), size.outside_mm) + ", that of " + to_string(size));
        }
    }
    if (both(segments, F::minimum_thickness, F::nominal_wall, row) &&
        segments.numbers(F::minimum_thickness)[row] > segments.numbers(F::nominal_wall)[row]) {
        refuse(F::minimum_thickness, Severity::warning,
               "at most the nominal wall, " + shown_cell(segments, F::nominal_wall, row));
    }
}

void check_age(const SegmentSheet& segments, std::size_t row, Date ranked_at, Report& report) {
    if (!segments.has(F::in_service, row)) return;
    const Date service{segments.days(F::in_service)[row]};
    if (service <= ranked_at) return;
    add_at_cell(report, segments, index_of(F::in_service), row, Severity::warning,
                Problem::contradiction, to_string(service),
                "a day before the rank date, " + to_string(ranked_at),
                "correct the day; a pipe that is not in service yet has no risk to rank");
}

void check_segments(const Plant& plant, const WorkPlan& plan, Report& report) {
    ReportsInOrder reports{report};
    for_each_block(plant.segments.rows(), plan, [&](std::size_t block, RowRange range) {
        Report found;
        for (std::size_t row = range.begin; row < range.end; ++row) {
            check_segment(plant.segments, row, found);
            check_age(plant.segments, row, plant.ranked_at.date, found);
        }
        reports.add(block, std::move(found));
    });
}

// What is left at a pit and the pit add up to the wall that was there.
double wall_before(const InspectionSheet& inspections, std::uint32_t row) {
    double wall = 0.0;
    for (const auto field : {InspectionField::least_thickness, InspectionField::pit_depth}) {
        if (inspections.has(field, row)) wall += inspections.numbers(field)[row];
    }
    return wall;
}

void check_readings(const Plant& plant, Report& report) {
    for (std::size_t s = 0; s < plant.segments.rows(); ++s) {
        if (!plant.segments.has(F::nominal_wall, s)) continue;
        const double nominal = plant.segments.numbers(F::nominal_wall)[s];
        for (std::uint32_t i = plant.inspection_begin[s]; i < plant.inspection_begin[s + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            const double found = wall_before(plant.inspections, row);
            if (found <= most_wall_over_nominal * nominal) continue;
            const bool reads = plant.inspections.has(InspectionField::least_thickness, row);
            const auto field =
                reads ? InspectionField::least_thickness : InspectionField::pit_depth;
            const bool both = reads && plant.inspections.has(InspectionField::pit_depth, row);
            add_at_cell(report, plant.inspections, index_of(field), row, Severity::warning,
                        Problem::contradiction,
                        shown(info(field), found) + (both ? ", with the pit" : ""),
                        "not far above the nominal wall, " + shown(info(F::nominal_wall), nominal),
                        "check the reading, its unit and the nominal wall");
        }
    }
}

void check_windows(const TurnaroundSheet& windows, Report& report) {
    std::map<std::string_view, std::size_t> seen;
    using T = TurnaroundField;
    for (std::size_t row = 0; row < windows.rows(); ++row) {
        if (windows.has(T::start, row) && windows.has(T::end, row) &&
            windows.days(T::end)[row] < windows.days(T::start)[row]) {
            add_at_cell(
                report, windows, index_of(T::end), row, Severity::error, Problem::contradiction,
                to_string(Date{windows.days(T::end)[row]}),
                "a day on or after the start, " + to_string(Date{windows.days(T::start)[row]}),
                "correct one of the two days");
        }
        if (!windows.has(T::name, row)) continue;
        const auto [first, fresh] = seen.emplace(windows.texts(T::name)[row], row);
        if (fresh) continue;
        add_at_cell(report, windows, index_of(T::name), row, Severity::error,
                    Problem::duplicate_key,
                    "window '" + printable(first->first) + "', which stands already in " +
                        line_text(cell_place(windows, index_of(T::name), first->second)),
                    "each window once", "rename one of the two");
    }
}

}  // namespace

void check_consistency(const Plant& plant, const WorkPlan& plan, Report& report) {
    check_segments(plant, plan, report);
    check_readings(plant, report);
    check_windows(plant.turnarounds, report);
}

}  // namespace lagline
