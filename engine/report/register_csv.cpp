#include "report/register_csv.h"

#include "report/csv_text.h"

namespace lagline {
namespace {

using O = OverrideField;

void append_record(std::string& csv, std::initializer_list<std::string_view> fields) {
    bool first = true;
    for (const std::string_view field : fields) {
        if (!first) csv += ',';
        append_csv_text(csv, field);
        first = false;
    }
    csv += '\n';
}

}  // namespace

std::vector<OutputColumn> AssumptionRows::columns() const {
    return {{"column"}, {"state"}, {"segments", CellKind::count}, {"taken"}, {"reason"}, {"basis"}};
}

void AssumptionRows::write_row(std::size_t row, TableCells& cells) const {
    if (row < gaps_.size()) {
        const Gap& gap = gaps_[row];
        cells.text(segment_fields()[gap.field].key);
        cells.text(describe(gap.state));
        cells.count(gap.count);
        cells.text(gap.taken);
        cells.text(gap.reason);
        cells.text(gap.basis);
        return;
    }
    const MarginGap& margin = margins_[row - gaps_.size()];
    cells.text("lost_margin of unit " + margin.unit);
    cells.text(describe(CellState::rule_default));
    cells.count(margin.count);
    cells.text("lost_margin of the rules");
    cells.text("plant.yaml gives none for the unit");
    cells.empty();
}

std::string assumptions_csv(const std::vector<Gap>& gaps, const std::vector<MarginGap>& margins) {
    return csv_of(AssumptionRows{gaps, margins});
}

std::string overrides_csv(const Plant& plant) {
    std::string csv = "segment,quantity,value,replaced,reason,who,when,until\n";
    const OverrideSheet& sheet = plant.overrides;
    for (const AppliedOverride& applied : plant.applied_overrides) {
        const std::size_t row = applied.override_row;
        const auto text = [&](O field) { return sheet.texts(field)[row]; };
        const std::string until =
            sheet.has(O::until, row) ? to_string(Date{sheet.days(O::until)[row]}) : std::string{};
        append_record(csv, {text(O::segment), segment_fields()[applied.field].key, text(O::value),
                            applied.replaced, text(O::reason), text(O::who),
                            to_string(Date{sheet.days(O::when)[row]}), until});
    }
    return csv;
}

}  // namespace lagline
