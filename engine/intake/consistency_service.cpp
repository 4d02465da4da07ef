#include "blocks/number_text.h"
#include "intake/cell.h"
#include "intake/consistency_check.h"
#include "intake/defaults.h"

namespace lagline {
namespace {

using F = SegmentField;

void check_ends(const SegmentCheck& check) {
    for_both(check, F::temperature_low, F::temperature_high,
             [&](std::size_t row, double low_degc, double high_degc) {
                 if (low_degc <= high_degc) return;
                 report_fact(check, F::temperature_low, row, Severity::error,
                             "at most temperature_high, " +
                                 fact_text(check.segments(), F::temperature_high, row),
                             "correct this cell or the other one");
             });
}

// The operating temperature belongs between the ends of the cycle.  A service that nobody stated
// may be another one, and one that does not cycle has no use for the ends.
void check_between_ends(const SegmentCheck& check, F end, bool is_low) {
    const SegmentSheet& segments = check.segments();
    const SheetColumn& low = segments.column(F::temperature_low);
    const SheetColumn& high = segments.column(F::temperature_high);
    const auto swapped = [&](std::size_t row) {  // which check_ends() reports
        return segments.has(F::temperature_low, row) && segments.has(F::temperature_high, row) &&
               low.numbers[row] > high.numbers[row];
    };
    const auto& ends = segments.column(end).states;
    const SheetColumn& service = segments.column(F::service);
    for_both(check, F::operating_temperature, end,
             [&](std::size_t row, double operating_degc, double end_degc) {
                 if (is_low ? operating_degc >= end_degc : operating_degc <= end_degc) return;
                 if (!is_stated(ends[row]) || swapped(row)) return;
                 const bool cycles = !service.states.empty() && is_stated(service.states[row]) &&
                                     service.codes[row] == check.limits.cyclic;
                 const std::string mend =
                     "correct this cell, " + std::string{info(end).key} + " or the service";
                 report_fact(
                     check, F::operating_temperature, row,
                     cycles ? Severity::error : Severity::warning,
                     (is_low ? "at least temperature_low, " : "at most temperature_high, ") +
                         fact_text(segments, end, row),
                     cycles ? mend : mend + taken_for(check, row, "the metal temperature"));
             });
}

// Shares that were entered; one that was derived takes what the others leave.
void check_shares(const SegmentCheck& check) {
    constexpr double rounding = 1e-9;
    const auto& hot_states = check.segments().column(F::hot_fraction).states;
    const auto& standby_states = check.segments().column(F::standby_fraction).states;
    for_both(check, F::hot_fraction, F::standby_fraction,
             [&](std::size_t row, double hot, double standby) {
                 if (!is_stated(hot_states[row]) || !is_stated(standby_states[row])) return;
                 if (hot + standby <= 1.0 + rounding) return;
                 report_fact(
                     check, F::standby_fraction, row, Severity::error,
                     "at most what hot_fraction leaves of the year, " +
                         shown(info(F::standby_fraction), 1.0 - hot),
                     "correct this cell or hot_fraction; both are shares of the whole year");
             });
}

std::string what_ends_do(const SegmentCheck& check, std::size_t row, double step_k) {
    const std::string step = short_number(step_k, 3) + " K";
    if (!check.limits.service_cycle) {
        return "these rules keep the operating temperature and do not use the ends";
    }
    if (ends_show_cycle(check.segments(), row, step_k)) {
        return "service is taken as cyclic, since the ends differ by more than " + step;
    }
    return "the ends are not used, since they differ by no more than " + step;
}

// The ends of a cycle in a row where nobody said that the line cycles.
void check_unused_ends(const SegmentCheck& check) {
    if (!check.limits.implied_cycle_step_k) return;
    const SegmentSheet& segments = check.segments();
    if (segments.column(F::temperature_low).states.empty() &&
        segments.column(F::temperature_high).states.empty()) {
        return;
    }
    const auto& high = segments.column(F::temperature_high).states;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        if (!gives_an_end(segments, row) || is_stated(segments.state(F::service, row))) continue;
        const bool by_high = !high.empty() && is_stated(high[row]);
        report_fact(check, by_high ? F::temperature_high : F::temperature_low, row,
                    Severity::warning,
                    "a service beside the ends of a cycle; " +
                        what_ends_do(check, row, *check.limits.implied_cycle_step_k),
                    "enter the service of the line: cyclic, continuous, intermittent or idle");
    }
}

void check_material(const SegmentCheck& check, F field) {
    const SheetColumn& material = check.segments().column(F::material);
    const SheetColumn& column = check.segments().column(field);
    if (material.states.empty() || column.states.empty()) return;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        if (column.states[row] == CellState::absent) continue;
        if (material.states[row] == CellState::absent) continue;
        const RuleEntry& limit = check.limits.metal_degc_most->entries[material.codes[row]];
        if (column.numbers[row] <= limit.value) continue;
        report_fact(check, field, row, Severity::error,
                    "at most " + shown(info(field), limit.value) + ", for " + limit.key,
                    "correct the temperature, its unit or the material");
    }
}

}  // namespace

void check_service(const SegmentCheck& check) {
    check_ends(check);
    check_shares(check);
    check_unused_ends(check);
    check_between_ends(check, F::temperature_low, true);
    check_between_ends(check, F::temperature_high, false);
    for (const F field : {F::operating_temperature, F::temperature_low, F::temperature_high}) {
        check_material(check, field);
    }
}

}  // namespace lagline
