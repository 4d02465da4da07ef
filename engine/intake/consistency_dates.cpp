#include "intake/consistency_check.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using F = SegmentField;

void check_in_service(const SegmentCheck& check) {
    const SheetColumn& service = check.segments().column(F::in_service);
    if (service.states.empty()) return;
    const Date today = check.plant.today;
    const Date at = check.plant.ranked_at.date;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        if (service.states[row] == CellState::absent) continue;
        const Date day{service.days[row]};
        if (day > today) {
            report_fact(check, F::in_service, row, Severity::error,
                        "a day up to today, " + to_string(today),
                        "correct the day, or leave the segment out until it is in service; a pipe "
                        "that is not has no risk to rank");
        } else if (day > at) {
            report_fact(check, F::in_service, row, Severity::warning,
                        "a day before the rank date, " + to_string(at),
                        "correct the day; a pipe that is not in service yet has no risk to rank");
        }
    }
}

// A coating or an insulation: neither after today, nor long before there was a pipe to put it on.
void check_applied(const SegmentCheck& check, F field, std::string_view moves) {
    const SheetColumn& applied = check.segments().column(field);
    const SheetColumn& service = check.segments().column(F::in_service);
    if (applied.states.empty() || service.states.empty()) return;
    const Date today = check.plant.today;
    for (std::size_t row = check.rows.begin; row < check.rows.end; ++row) {
        if (!is_stated(applied.states[row])) continue;
        const Date day{applied.days[row]};
        if (day > today) {
            report_fact(check, field, row, Severity::error,
                        "a day up to today, " + to_string(today),
                        "correct the day; what is planned is no protection yet");
            continue;
        }
        // The whole calendar is worked out only for the few that are older than the pipe.
        if (service.states[row] == CellState::absent || applied.days[row] >= service.days[row]) {
            continue;
        }
        const Date start{service.days[row]};
        const double years = years_between(day, start);
        if (years <= check.limits.before_service_flagged_years) continue;
        const bool impossible = years > check.limits.before_service_most_years;
        const std::string mend = "correct this day or in_service";
        report_fact(check, field, row, impossible ? Severity::error : Severity::warning,
                    "a day near or after " + to_string(start) + ", when the pipe went into service",
                    impossible ? mend : mend + taken_for(check, row, moves));
    }
}

}  // namespace

void check_dates(const SegmentCheck& check) {
    check_in_service(check);
    check_applied(check, F::coating_date, "the age of the coating");
    check_applied(check, F::insulation_installed, "the age of the insulation");
}

}  // namespace lagline
