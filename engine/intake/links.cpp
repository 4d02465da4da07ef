#include "intake/links.h"

#include <algorithm>
#include <numeric>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/cell_place.h"
#include "intake/inspection_order.h"
#include "quantity/date.h"

namespace lagline {
namespace {

constexpr auto name_field = index_of(SegmentField::segment);
// Looking for the nearest of many names is slow; after this many the reader has the idea.
constexpr std::size_t most_suggestions = 50;
constexpr std::size_t most_names_compared = 50'000;

std::string suggestion(std::string_view name, const SegmentIndex& index) {
    if (index.size() > most_names_compared) return "";
    std::vector<std::string_view> names;
    names.reserve(index.size());
    for (const auto& [known, row] : index) names.push_back(known);
    std::ranges::sort(names);
    return did_you_mean(name, names);
}

bool before_service(const Plant& plant, std::uint32_t segment, std::size_t inspection) {
    if (!plant.segments.has(SegmentField::in_service, segment)) return false;
    if (!plant.inspections.has(InspectionField::date, inspection)) return false;
    return plant.inspections.days(InspectionField::date)[inspection] <
           plant.segments.days(SegmentField::in_service)[segment];
}

}  // namespace

SegmentIndex index_segments(const SegmentSheet& segments, Report& report) {
    SegmentIndex index;
    if (segments.torn) return index;
    index.reserve(segments.rows());
    for (std::size_t row = 0; row < segments.rows(); ++row) {
        if (!segments.has(SegmentField::segment, row)) continue;
        const std::string_view name = segments.texts(SegmentField::segment)[row];
        const auto [first, fresh] = index.emplace(name, static_cast<std::uint32_t>(row));
        if (fresh) continue;
        add_at_cell(report, segments, name_field, row, Severity::error, Problem::duplicate_key,
                    "segment '" + printable(name) + "', which stands already in " +
                        line_text(cell_place(segments, name_field, first->second)),
                    "each segment once", "rename one of the two, or remove the row");
    }
    return index;
}

void report_unknown_segment(const Sheet& sheet, std::size_t field, std::size_t row,
                            std::string_view name, const SegmentIndex& index, Report& report) {
    if (index.empty()) return;
    const std::string meant =
        report.diagnostics().size() < most_suggestions ? suggestion(name, index) : "";
    add_at_cell(report, sheet, field, row, Severity::error, Problem::unknown_segment,
                "segment '" + printable(name) + "'", "a segment of segments.csv",
                meant.empty() ? "correct the name, or add the segment" : meant);
}

void link_inspections(Plant& plant, const SegmentIndex& index, Report& report) {
    const InspectionSheet& inspections = plant.inspections;
    constexpr auto segment_field = index_of(InspectionField::segment);
    constexpr auto date_field = index_of(InspectionField::date);
    constexpr std::uint32_t nowhere = ~std::uint32_t{0};
    std::vector<std::uint32_t> segment_of(inspections.rows(), nowhere);
    plant.inspection_begin.assign(plant.segments.rows() + 1, 0);
    for (std::size_t row = 0; row < inspections.rows(); ++row) {
        if (!inspections.has(InspectionField::segment, row)) continue;
        const std::string_view name = inspections.texts(InspectionField::segment)[row];
        const auto found = index.find(name);
        if (found == index.end()) {
            report_unknown_segment(inspections, segment_field, row, name, index, report);
            continue;
        }
        if (before_service(plant, found->second, row)) {
            const Date service{plant.segments.days(SegmentField::in_service)[found->second]};
            add_at_cell(
                report, inspections, date_field, row, Severity::error, Problem::contradiction,
                "an inspection on " + to_string(Date{inspections.days(InspectionField::date)[row]}),
                "a day on or after " + to_string(service) + ", when " + printable(name) +
                    " went into service",
                "correct the date here or in_service in segments.csv");
            continue;
        }
        segment_of[row] = found->second;
        ++plant.inspection_begin[found->second + 1];
    }
    std::partial_sum(plant.inspection_begin.begin(), plant.inspection_begin.end(),
                     plant.inspection_begin.begin());
    plant.inspection_order.assign(plant.inspection_begin.back(), 0);
    std::vector<std::uint32_t> next(plant.inspection_begin.begin(),
                                    plant.inspection_begin.end() - 1);
    for (std::size_t row = 0; row < inspections.rows(); ++row) {
        if (segment_of[row] == nowhere) continue;
        plant.inspection_order[next[segment_of[row]]++] = static_cast<std::uint32_t>(row);
    }
    for (std::size_t s = 0; s < plant.segments.rows(); ++s) {
        const auto first = plant.inspection_order.begin() + plant.inspection_begin[s];
        const auto last = plant.inspection_order.begin() + plant.inspection_begin[s + 1];
        std::sort(first, last, [&](auto a, auto b) { return goes_before(inspections, a, b); });
    }
}

}  // namespace lagline
