#include "intake/consistency.h"

#include "intake/consistency_check.h"
#include "intake/reports_in_order.h"

namespace lagline {

void check_consistency(const Plant& plant, const RuleSet& rules, DaysChecked days,
                       const WorkPlan& plan, Report& report) {
    const Limits limits = limits_of(rules);
    ReportsInOrder reports{report};
    for_each_block(plant.segments.rows(), plan, [&](std::size_t block, RowRange range) {
        Report found;
        const SegmentCheck check{plant, limits, range, found};
        check_pipe(check);
        check_service(check);
        if (days == DaysChecked::against_today) check_dates(check);
        reports.add(block, std::move(found));
    });
    check_readings(plant, limits, report);
    check_windows(plant.turnarounds, report);
}

}  // namespace lagline
