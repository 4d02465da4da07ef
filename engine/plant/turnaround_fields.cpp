// The columns of turnarounds.csv.
#include <array>

#include "plant/field.h"
#include "plant/field_rows.h"

namespace lagline {
namespace {

constexpr auto columns = std::to_array<FieldInfo>({
    a_text("name", needed, "name of the window", "TA-2027"),
    a_word("kind", where_empty("turnaround"), "window_kind", "turnaround, or a window on stream",
           "turnaround"),
    a_date("start", needed, "first day", "2027-04-05"),
    a_date("end", needed, "last day", "2027-05-09"),
    a_quantity("budget", where_empty("no limit"), Measure{Dimension::money, "", 0, 1e12},
               "money for this work", "1200000"),
    a_quantity("scaffold_hours", where_empty("no limit"), Measure{Dimension::work, "h", 0, 1e9},
               "craft hours, scaffolding", "2500"),
    a_quantity("insulation_hours", where_empty("no limit"), Measure{Dimension::work, "h", 0, 1e9},
               "craft hours, insulation", "1800"),
    a_quantity("coating_hours", where_empty("no limit"), Measure{Dimension::work, "h", 0, 1e9},
               "craft hours, blasting and painting", "1500"),
    a_quantity("inspection_hours", where_empty("no limit"), Measure{Dimension::work, "h", 0, 1e9},
               "craft hours, inspection", "900"),
    a_quantity("welding_hours", where_empty("no limit"), Measure{Dimension::work, "h", 0, 1e9},
               "craft hours, welding and fitting", "600"),
});
static_assert(columns.size() == index_of(TurnaroundField::welding_hours) + 1);

}  // namespace

std::span<const FieldInfo> turnaround_fields() { return columns; }

}  // namespace lagline
