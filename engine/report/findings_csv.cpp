#include "report/findings_csv.h"

#include "intake/heading.h"
#include "report/csv_text.h"

namespace lagline {
namespace {

constexpr std::string_view stripped = "strip_and_measure";

}  // namespace

std::string_view technique_of(const RuleSet& rules, const ScopeSegment& told) {
    const bool strips = told.inspects && told.action != WorkAction::screen;
    return strips && rules.vocabulary("technique").code(stripped) ? stripped : std::string_view{};
}

std::string findings_csv(const Plant& plant, const RuleSet& rules,
                         std::span<const ScopeSheet> sheets) {
    std::string csv = heading_line(inspection_fields());
    const auto names = plant.segments.texts(SegmentField::segment);
    for (const ScopeSheet& sheet : sheets) {
        for (const ScopeSegment& told : sheet.segments) {
            if (!is_to_be_recorded(told)) continue;
            for (std::size_t field = 0; field < inspection_fields().size(); ++field) {
                if (field > 0) csv += ',';
                if (field == index_of(InspectionField::segment)) {
                    append_csv_text(csv, names[told.segment]);
                }
                if (field == index_of(InspectionField::technique)) {
                    csv += technique_of(rules, told);
                }
            }
            csv += '\n';
        }
    }
    return csv;
}

}  // namespace lagline
