// The columns of overrides.csv.
#include <array>

#include "plant/field.h"
#include "plant/field_rows.h"

namespace lagline {
namespace {

constexpr auto columns = std::to_array<FieldInfo>({
    a_text("segment", needed, "segment whose value is replaced", "S-0107"),
    a_text("quantity", needed, "column of segments.csv", "insulation_condition"),
    a_text("value", needed, "value to use, with its unit", "below_average"),
    a_text("reason", needed, "why", "jacket open at support 4, walk-down"),
    a_text("who", needed, "who decided", "A. Engineer"),
    a_date("when", needed, "day of the decision", "2026-02-11"),
    a_date("until", where_empty("no expiry"), "last day it holds", "2027-12-31"),
});
static_assert(columns.size() == index_of(OverrideField::until) + 1);

}  // namespace

std::span<const FieldInfo> override_fields() { return columns; }

}  // namespace lagline
