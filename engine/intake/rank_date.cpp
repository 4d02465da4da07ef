#include "intake/rank_date.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "diagnostics/text.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

using T = TurnaroundField;

struct Window {
    std::int32_t start = 0;
    std::size_t row = 0;
};

// Windows that start after a day, the earliest first; those of one day are one chance.
std::vector<Window> windows_after(const Plant& plant, Date day) {
    std::vector<Window> windows;
    for (std::size_t row = 0; row < plant.turnarounds.rows(); ++row) {
        if (!plant.turnarounds.has(T::start, row)) continue;
        const std::int32_t start = plant.turnarounds.days(T::start)[row];
        if (start > day.days) windows.push_back({start, row});
    }
    std::ranges::stable_sort(windows, {}, &Window::start);
    const auto same = [](const Window& a, const Window& b) { return a.start == b.start; };
    windows.erase(std::unique(windows.begin(), windows.end(), same), windows.end());
    return windows;
}

std::string name_of(const Plant& plant, const Window& window) {
    return printable(plant.turnarounds.texts(T::name)[window.row]);
}

void warn_of_one_window(const Plant& plant, const Window& window, Date today, Report& report) {
    report.add(
        {.severity = Severity::warning,
         .problem = Problem::missing_value,
         .where = place_at(plant.turnarounds.source, plant.turnarounds.row_offsets[window.row]),
         .subject = "rank date",
         .found = name_of(plant, window) + " is the only window after " + to_string(today),
         .expected = "the window after it too: what is left alone in the one must last "
                     "until the other",
         .mend = "add the window after " + name_of(plant, window) +
                 ", or give --at YYYY-MM-DD or rank_date in plant.yaml",
         .excerpt = {}});
}

}  // namespace

RankDate find_rank_date(const Plant& plant, std::optional<Date> at, Date today, Report& report) {
    if (at) return {*at, "as asked"};
    if (plant.description.rank_date) {
        return {*plant.description.rank_date, "rank_date of plant.yaml"};
    }
    const std::vector<Window> windows = windows_after(plant, today);
    if (windows.size() > 1) {
        return {Date{windows[1].start}, "start of " + name_of(plant, windows[1]) +
                                            ", the window after the next one (" +
                                            name_of(plant, windows[0]) + ")"};
    }
    if (windows.size() == 1) {
        warn_of_one_window(plant, windows[0], today, report);
        return {Date{windows[0].start}, "start of " + name_of(plant, windows[0]) +
                                            ", the only window after " + to_string(today)};
    }
    report.add(
        {.problem = Problem::missing_value,
         .where = {plant.folder.empty() ? "plant folder" : plant.folder, 0, 0},
         .subject = "rank date",
         .found = "no date to rank at: turnarounds.csv has no window after " + to_string(today),
         .expected = "a date",
         .mend = "add the next two windows to turnarounds.csv, or give --at YYYY-MM-DD",
         .excerpt = {}});
    return {today, ""};
}

}  // namespace lagline
