#include <map>
#include <string_view>

#include "diagnostics/text.h"
#include "intake/cell_place.h"
#include "intake/consistency_check.h"
#include "quantity/date.h"

namespace lagline {

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

}  // namespace lagline
