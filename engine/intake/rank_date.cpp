#include "intake/rank_date.h"

#include <string>

#include "diagnostics/text.h"

namespace lagline {

RankDate find_rank_date(const Plant& plant, std::optional<Date> at, Date today, Report& report) {
    if (at) return {*at, "as asked"};
    if (plant.description.rank_date)
        return {*plant.description.rank_date, "rank_date of plant.yaml"};
    using T = TurnaroundField;
    std::optional<std::size_t> next;
    for (std::size_t row = 0; row < plant.turnarounds.rows(); ++row) {
        if (!plant.turnarounds.has(T::start, row)) continue;
        const auto starts = plant.turnarounds.days(T::start);
        if (starts[row] <= today.days) continue;
        if (!next || starts[row] < starts[*next]) next = row;
    }
    if (next) {
        return {Date{plant.turnarounds.days(T::start)[*next]},
                "start of " + printable(plant.turnarounds.texts(T::name)[*next]) +
                    ", the first window after " + to_string(today)};
    }
    report.add(
        {.problem = Problem::missing_value,
         .where = {plant.folder.empty() ? "plant folder" : plant.folder, 0, 0},
         .subject = "rank date",
         .found = "no date to rank at: turnarounds.csv has no window after " + to_string(today),
         .expected = "a date",
         .mend = "add the next window to turnarounds.csv, or give --at YYYY-MM-DD",
         .excerpt = {}});
    return {today, ""};
}

}  // namespace lagline
