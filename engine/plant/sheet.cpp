#include "plant/sheet.h"

namespace lagline {

std::string_view describe(CellState state) {
    switch (state) {
        case CellState::absent:
            return "absent";
        case CellState::given:
            return "given";
        case CellState::implied:
            return "follows from another column";
        case CellState::overridden:
            return "override";
        case CellState::imprecise:
            return "given without a day; first day taken";
        case CellState::derived:
            return "derived from the same segment";
        case CellState::plant_default:
            return "default of plant.yaml";
        case CellState::rule_default:
            return "default of the rule set";
    }
    return "";
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
