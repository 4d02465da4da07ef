#include <cmath>

#include "intake/cell.h"
#include "intake/consistency_check.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using F = SegmentField;

const std::string mend_one = "correct this cell or the other one";

// With one of the two from the table of the rules the grade may just be another than the table's.
Severity severity_of(CellState a, CellState b) {
    return is_stated(a) && is_stated(b) ? Severity::error : Severity::warning;
}

void check_wall_in_diameter(const SegmentCheck& check) {
    for_both(check, F::nominal_wall, F::outside_diameter,
             [&](std::size_t row, double wall_mm, double outside_mm) {
                 if (2.0 * wall_mm < outside_mm) return;
                 report_fact(check, F::nominal_wall, row, Severity::error,
                             "less than half the outside diameter, " +
                                 fact_text(check.segments(), F::outside_diameter, row),
                             mend_one);
             });
}

void check_wall_of_size(const SegmentCheck& check) {
    const SheetColumn& sizes = check.segments().column(F::nominal_size);
    if (sizes.states.empty()) return;
    for_both(check, F::nominal_wall, F::outside_diameter,
             [&](std::size_t row, double wall_mm, double outside_mm) {
                 if (sizes.states[row] == CellState::absent || 2.0 * wall_mm >= outside_mm) return;
                 const double heaviest_mm = heaviest_wall_mm(sizes.codes[row]);
                 if (wall_mm <= heaviest_mm) return;
                 const PipeSize& size = pipe_sizes()[sizes.codes[row]];
                 const double most_mm = check.limits.wall_over_schedule_most * heaviest_mm;
                 const std::string schedule = shown(info(F::nominal_wall), heaviest_mm) +
                                              ", the heaviest schedule of " + to_string(size);
                 if (wall_mm > most_mm) {
                     report_fact(check, F::nominal_wall, row, Severity::error,
                                 "at most " + shown(info(F::nominal_wall), most_mm) +
                                     ", a limit well above " + schedule,
                                 "correct the wall, its unit or the nominal size");
                     return;
                 }
                 report_fact(check, F::nominal_wall, row, Severity::warning, "at most " + schedule,
                             "check the wall and the nominal size" +
                                 taken_for(check, row, "the wall left"));
             });
}

void check_diameter_of_size(const SegmentCheck& check) {
    const SheetColumn& sizes = check.segments().column(F::nominal_size);
    const SheetColumn& diameters = check.segments().column(F::outside_diameter);
    if (sizes.states.empty() || diameters.states.empty()) return;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        // Most diameters follow from the size.
        if (diameters.states[row] == CellState::implied) continue;
        if (diameters.states[row] == CellState::absent) continue;
        if (sizes.states[row] == CellState::absent) continue;
        const PipeSize& size = pipe_sizes()[sizes.codes[row]];
        const double off = std::abs(diameters.numbers[row] - size.outside_mm) / size.outside_mm;
        if (off <= check.limits.diameter_deviation_flagged) continue;
        const bool other = off > check.limits.diameter_deviation_most;
        report_fact(
            check, F::outside_diameter, row, other ? Severity::error : Severity::warning,
            shown(info(F::outside_diameter), size.outside_mm) + ", that of " + to_string(size),
            other ? mend_one
                  : mend_one + taken_for(check, row, "pressure stress, surface and cost"));
    }
}

void check_minimum(const SegmentCheck& check) {
    for_both(check, F::minimum_thickness, F::nominal_wall,
             [&](std::size_t row, double minimum_mm, double wall_mm) {
                 if (minimum_mm <= wall_mm) return;
                 report_fact(check, F::minimum_thickness, row, Severity::warning,
                             "at most the nominal wall, " +
                                 fact_text(check.segments(), F::nominal_wall, row),
                             mend_one + taken_for(check, row, "the wall to spare"));
             });
}

void check_allowance(const SegmentCheck& check) {
    for_both(check, F::corrosion_allowance, F::nominal_wall,
             [&](std::size_t row, double allowance_mm, double wall_mm) {
                 if (allowance_mm < wall_mm) return;
                 report_fact(check, F::corrosion_allowance, row, Severity::error,
                             "less than the nominal wall, " +
                                 fact_text(check.segments(), F::nominal_wall, row),
                             mend_one);
             });
}

// `lower` must lie below `upper`; what is at fault is said at `lower`, which is reported as severe
// as the two cells are sure.
void check_strengths(const SegmentCheck& check, F lower, F upper) {
    const auto& lower_states = check.segments().column(lower).states;
    const auto& upper_states = check.segments().column(upper).states;
    for_both(check, lower, upper, [&](std::size_t row, double low_mpa, double high_mpa) {
        if (low_mpa < high_mpa) return;
        if (!is_stated(lower_states[row]) && !is_stated(upper_states[row])) return;
        const Severity severity = severity_of(lower_states[row], upper_states[row]);
        const std::string mend = "correct the grade's strengths: one of the two cells";
        report_fact(check, lower, row, severity,
                    "less than " + std::string{info(upper).key} + ", " +
                        fact_text(check.segments(), upper, row),
                    severity == Severity::error
                        ? mend
                        : "give both strengths of the grade" +
                              taken_for(check, row, "the strength of the wall"));
    });
}

// Hoop stress of a thin cylinder without corrosion (Barlow), P D / 2 t.
void check_pressure(const SegmentCheck& check) {
    const SegmentSheet& segments = check.segments();
    const SheetColumn& pressures = segments.column(F::design_pressure);
    const SheetColumn& tensile = segments.column(F::tensile_strength);
    const SheetColumn& allowable = segments.column(F::allowable_stress);
    if (pressures.states.empty() || tensile.states.empty() || allowable.states.empty()) return;
    for_both(check, F::nominal_wall, F::outside_diameter,
             [&](std::size_t row, double wall_mm, double outside_mm) {
                 if (!is_stated(pressures.states[row])) return;
                 const double hoop_mpa = pressures.numbers[row] * outside_mm / (2.0 * wall_mm);
                 if (tensile.states[row] == CellState::absent) return;
                 if (allowable.states[row] == CellState::absent) return;
                 const bool bursts = hoop_mpa > tensile.numbers[row];
                 if (!bursts && hoop_mpa <= allowable.numbers[row]) return;
                 if (2.0 * wall_mm >= outside_mm) return;
                 const F limit = bursts ? F::tensile_strength : F::allowable_stress;
                 const std::string mend = "correct the pressure or its unit, the wall or the size";
                 report_fact(
                     check, F::design_pressure, row, bursts ? Severity::error : Severity::warning,
                     "a pressure that the nominal wall holds: P D / 2 t is " +
                         shown(info(limit), std::round(hoop_mpa)) + ", above " +
                         std::string{info(limit).key} + ", " + fact_text(segments, limit, row),
                     bursts ? mend : mend + taken_for(check, row, "the strength of the wall"));
             });
}

}  // namespace

void check_pipe(const SegmentCheck& check) {
    check_wall_in_diameter(check);
    check_wall_of_size(check);
    check_diameter_of_size(check);
    check_minimum(check);
    check_allowance(check);
    check_strengths(check, F::yield_strength, F::tensile_strength);
    check_strengths(check, F::allowable_stress, F::tensile_strength);
    check_pressure(check);
}

}  // namespace lagline
