#include "plant/sheet.h"

#include <algorithm>

namespace lagline {

std::string_view describe(CellState state) {
    switch (state) {
        case CellState::absent:
            return "absent";
        case CellState::given:
            return "given";
        case CellState::implied:
            return "implied by another column";
        case CellState::overridden:
            return "override";
        case CellState::imprecise:
            return "no day given";
        case CellState::derived:
            return "derived";
        case CellState::plant_default:
            return "plant default";
        case CellState::rule_default:
            return "rule default";
    }
    return "";
}

std::size_t SheetGrid::record_at(std::size_t offset) const {
    const auto after = std::ranges::upper_bound(offsets, offset);
    return after == offsets.begin() ? 0 : static_cast<std::size_t>(after - offsets.begin()) - 1;
}

Place whole_of(const SourceText& source) {
    return {source.file, 0, 0, source.grid ? source.grid->sheet : std::string{}};
}

void Sheet::make_room(std::size_t field) {
    SheetColumn& made = columns_[field];
    made.states.resize(rows_);
    switch (fields_[field].kind) {
        case FieldKind::text:
            made.texts.resize(rows_);
            break;
        case FieldKind::quantity:
            made.numbers.resize(rows_);
            break;
        case FieldKind::date:
            made.days.resize(rows_);
            break;
        case FieldKind::word:
        case FieldKind::flag:
        case FieldKind::pipe_size:
            made.codes.resize(rows_);
            break;
    }
}

void Sheet::clear(std::size_t field, RowRange rows) {
    SheetColumn& column = columns_[field];
    const auto fill = [&](auto& values, auto value) {
        if (values.empty()) return;
        std::fill_n(values.begin() + static_cast<std::ptrdiff_t>(rows.begin), rows.size(), value);
    };
    fill(column.numbers, 0.0);
    fill(column.codes, std::uint8_t{0});
    fill(column.days, std::int32_t{0});
    fill(column.texts, std::string_view{});
    fill(column.states, CellState::absent);
}

void Sheet::allocate(std::size_t field) {
    if (!columns_[field].states.empty()) return;
    make_room(field);
    clear(field, {0, rows_});
}

}  // namespace lagline
