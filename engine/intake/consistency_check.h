#pragma once

#include <string>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "intake/limits.h"
#include "plant/plant.h"

// What the checks of consistency share, a file a subject.

namespace lagline {

/// Some rows of segments.csv, what they are held against, and where faults go.
struct SegmentCheck {
    const Plant& plant;
    const Limits& limits;
    RowRange rows;
    Report& found;

    [[nodiscard]] const SegmentSheet& segments() const { return plant.segments; }
};

/// Wall, diameter, size, allowance, strengths and pressure.
void check_pipe(const SegmentCheck& check);
/// Temperatures against each other and against the material.
void check_service(const SegmentCheck& check);
/// Days against each other and against today.
void check_dates(const SegmentCheck& check);
/// Findings against the wall, all segments.
void check_readings(const Plant& plant, const Limits& limits, Report& report);
/// turnarounds.csv.
void check_windows(const TurnaroundSheet& windows, Report& report);

/// True for a cell that somebody filled: not derived, nor taken from the rules.
[[nodiscard]] constexpr bool is_stated(CellState state) {
    return state != CellState::absent && state != CellState::derived &&
           state != CellState::rule_default;
}

/// Reports a value of a segment where it was written: in overrides.csv when it comes from there.
/// A default says that it is one.
/// @param expected  what the value is held against
void report_fact(const SegmentCheck& check, SegmentField field, std::size_t row, Severity severity,
                 std::string expected, std::string mend);

/// A number or day of a segment with its unit, and where it comes from when that is a default.
[[nodiscard]] std::string fact_text(const SegmentSheet& segments, SegmentField field,
                                    std::size_t row);

/// "; taken as it stands, which moves WHAT and the rank of S-0107", for the mend of a warning.
[[nodiscard]] std::string taken_for(const SegmentCheck& check, std::size_t row,
                                    std::string_view what);

/// Calls test(row, value of a, value of b) for each row where both numbers are there.
template <class Test>
void for_both(const SegmentCheck& check, SegmentField a, SegmentField b, Test test) {
    const SheetColumn& left = check.segments().column(a);
    const SheetColumn& right = check.segments().column(b);
    if (left.states.empty() || right.states.empty()) return;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        if (left.states[row] == CellState::absent) continue;
        if (right.states[row] == CellState::absent) continue;
        test(row, left.numbers[row], right.numbers[row]);
    }
}

}  // namespace lagline
