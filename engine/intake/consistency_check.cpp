#include "intake/consistency_check.h"

#include <algorithm>

#include "diagnostics/text.h"
#include "intake/cell.h"
#include "intake/cell_place.h"
#include "quantity/date.h"

namespace lagline {
namespace {

std::string_view of_default(CellState state) {
    if (state == CellState::plant_default) return ", the default of plant.yaml";
    if (state == CellState::rule_default) return ", the default of the rules";
    if (state == CellState::derived) return ", derived from other columns";
    return "";
}

const AppliedOverride* override_of(const Plant& plant, std::size_t field, std::size_t row) {
    const auto made = std::ranges::find_if(plant.applied_overrides, [&](const auto& each) {
        return each.segment_row == row && each.field == field;
    });
    return made == plant.applied_overrides.end() ? nullptr : &*made;
}

}  // namespace

std::string fact_text(const SegmentSheet& segments, SegmentField field, std::size_t row) {
    const SheetColumn& column = segments.column(field);
    const FieldInfo& of = info(field);
    std::string text = of.kind == FieldKind::date ? to_string(Date{column.days[row]})
                                                  : shown(of, column.numbers[row]);
    return text.append(of_default(column.states[row]));
}

std::string taken_for(const SegmentCheck& check, std::size_t row, std::string_view what) {
    const std::string name = printable(check.segments().texts(SegmentField::segment)[row]);
    return "; taken as it stands, which moves " + std::string{what} + " and the rank of " + name;
}

void report_fact(const SegmentCheck& check, SegmentField field, std::size_t row, Severity severity,
                 std::string expected, std::string mend) {
    const SegmentSheet& segments = check.segments();
    std::string found = fact_text(segments, field, row);
    const std::size_t index = index_of(field);
    const auto* made = segments.state(field, row) == CellState::overridden
                           ? override_of(check.plant, index, row)
                           : nullptr;
    if (made == nullptr) {
        add_at_cell(check.found, segments, index, row, severity, Problem::contradiction,
                    std::move(found), std::move(expected), std::move(mend));
        return;
    }
    found = std::string{info(field).key} + " " + found + " of " +
            printable(segments.texts(SegmentField::segment)[row]);
    add_at_cell(check.found, check.plant.overrides, index_of(OverrideField::value),
                made->override_row, severity, Problem::contradiction, std::move(found),
                std::move(expected), std::move(mend));
}

}  // namespace lagline
