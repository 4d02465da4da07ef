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

std::string assumptions_csv(const std::vector<Gap>& gaps, const std::vector<MarginGap>& margins) {
    std::string csv = "column,state,segments,taken,reason,basis\n";
    for (const Gap& gap : gaps) {
        append_record(csv, {segment_fields()[gap.field].key, describe(gap.state),
                            std::to_string(gap.count), gap.taken, gap.reason, gap.basis});
    }
    for (const MarginGap& gap : margins) {
        append_record(csv, {"lost_margin of unit " + gap.unit, describe(CellState::rule_default),
                            std::to_string(gap.count), "lost_margin of the rules",
                            "plant.yaml gives none for the unit", ""});
    }
    return csv;
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
