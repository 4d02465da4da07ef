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

void Sheet::allocate(std::size_t field) {
    SheetColumn& made = columns_[field];
    if (!made.states.empty()) return;
    made.states.assign(rows_, CellState::absent);
    switch (fields_[field].kind) {
        case FieldKind::text:
            made.texts.assign(rows_, {});
            break;
        case FieldKind::quantity:
            made.numbers.assign(rows_, 0.0);
            break;
        case FieldKind::date:
            made.days.assign(rows_, 0);
            break;
        case FieldKind::word:
        case FieldKind::flag:
        case FieldKind::pipe_size:
            made.codes.assign(rows_, 0);
            break;
    }
}

}  // namespace lagline
