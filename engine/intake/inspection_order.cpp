#include "intake/inspection_order.h"

#include <compare>

#include "plant/field.h"

namespace lagline {
namespace {

using I = InspectionField;

/// An empty cell stands before a filled one.
std::strong_ordering by_state(const InspectionSheet& sheet, std::size_t field, std::uint32_t a,
                              std::uint32_t b) {
    return (sheet.state(field, a) != CellState::absent) <=>
           (sheet.state(field, b) != CellState::absent);
}

template <class Values>
std::partial_ordering by_value(const Values& values, std::uint32_t a, std::uint32_t b) {
    if (values.empty()) return std::partial_ordering::equivalent;
    return values[a] <=> values[b];
}

std::partial_ordering by_cell(const InspectionSheet& sheet, std::size_t field, std::uint32_t a,
                              std::uint32_t b) {
    if (const auto order = by_state(sheet, field, a, b); order != 0) return order;
    if (sheet.state(field, a) == CellState::absent) return std::partial_ordering::equivalent;
    const SheetColumn& column = sheet.column(field);
    if (const auto order = by_value(column.numbers, a, b); order != 0) return order;
    if (const auto order = by_value(column.codes, a, b); order != 0) return order;
    if (const auto order = by_value(column.days, a, b); order != 0) return order;
    return by_value(column.texts, a, b);
}

}  // namespace

bool goes_before(const InspectionSheet& inspections, std::uint32_t a, std::uint32_t b) {
    const auto cell = [&](I field) { return by_cell(inspections, index_of(field), a, b); };
    if (const auto order = cell(I::date); order != 0) return order < 0;
    if (const auto order = cell(I::cracks_found); order != 0) return order < 0;
    const std::size_t wall = index_of(I::least_thickness);
    if (const auto order = by_state(inspections, wall, a, b); order != 0) return order < 0;
    if (const auto order = cell(I::least_thickness); order != 0) return order > 0;
    if (const auto order = cell(I::pit_depth); order != 0) return order < 0;
    for (std::size_t field = 0; field < inspections.fields().size(); ++field) {
        const auto order = by_cell(inspections, field, a, b);
        if (order != 0) return order < 0;
    }
    return a < b;
}

bool is_same_inspection(const InspectionSheet& inspections, std::uint32_t a, std::uint32_t b) {
    for (std::size_t field = 0; field < inspections.fields().size(); ++field) {
        if (by_cell(inspections, field, a, b) != 0) return false;
    }
    return true;
}

}  // namespace lagline
