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
    for (const std::string_view known : index.names()) {
        if (!known.empty()) names.push_back(known);
    }
    std::ranges::sort(names);
    names.erase(std::unique(names.begin(), names.end()), names.end());
    return did_you_mean(name, names);
}

bool before_service(const Plant& plant, std::uint32_t segment, std::size_t inspection) {
    if (!plant.segments.has(SegmentField::in_service, segment)) return false;
    if (!plant.inspections.has(InspectionField::date, inspection)) return false;
    return plant.inspections.days(InspectionField::date)[inspection] <
           plant.segments.days(SegmentField::in_service)[segment];
}

constexpr std::uint32_t nowhere = ~std::uint32_t{0};

void report_before_service(const Plant& plant, std::uint32_t segment, std::size_t row,
                           Report& report) {
    const Date service{plant.segments.days(SegmentField::in_service)[segment]};
    const std::string name = printable(plant.inspections.texts(InspectionField::segment)[row]);
    add_at_cell(
        report, plant.inspections, index_of(InspectionField::date), row, Severity::error,
        Problem::contradiction,
        "an inspection on " + to_string(Date{plant.inspections.days(InspectionField::date)[row]}),
        "a day on or after " + to_string(service) + ", when " + name + " went into service",
        "correct the date here or in_service in segments.csv");
}

bool after_today(const Plant& plant, std::size_t inspection) {
    return plant.inspections.has(InspectionField::date, inspection) &&
           Date{plant.inspections.days(InspectionField::date)[inspection]} > plant.today;
}

void report_after_today(const Plant& plant, std::size_t row, Report& report) {
    const std::string name = printable(plant.inspections.texts(InspectionField::segment)[row]);
    add_at_cell(
        report, plant.inspections, index_of(InspectionField::date), row, Severity::warning,
        Problem::contradiction,
        "an inspection on " + to_string(Date{plant.inspections.days(InspectionField::date)[row]}),
        "a day up to today, " + to_string(plant.today),
        "correct the day; not counted until then, so the rank of " + name + " goes without it");
}

// The segment of each inspection; nowhere where there is none, which is reported.
std::vector<std::uint32_t> find_segments(const Plant& plant, const SegmentIndex& index,
                                         DaysChecked days, const WorkPlan& plan,
                                         PassedOver* passed_over, Report& report) {
    const InspectionSheet& inspections = plant.inspections;
    std::vector<std::uint32_t> segment_of(inspections.rows(), nowhere);
    const auto names = inspections.texts(InspectionField::segment);
    for_each_block(inspections.rows(), plan, [&](std::size_t, RowRange range) {
        for (std::size_t row = range.begin; row < range.end; ++row) {
            if (!inspections.has(InspectionField::segment, row)) continue;
            segment_of[row] = index.find(names[row]).value_or(nowhere);
        }
    });
    for (std::size_t row = 0; row < inspections.rows(); ++row) {
        if (!inspections.has(InspectionField::segment, row)) continue;
        if (segment_of[row] == nowhere && passed_over != nullptr) {
            ++passed_over->inspections;
        } else if (segment_of[row] == nowhere) {
            report_unknown_segment(inspections, index_of(InspectionField::segment), row, names[row],
                                   index, report);
        } else if (before_service(plant, segment_of[row], row)) {
            report_before_service(plant, segment_of[row], row, report);
            segment_of[row] = nowhere;
        } else if (after_today(plant, row)) {
            if (days == DaysChecked::against_today) report_after_today(plant, row, report);
            segment_of[row] = nowhere;
        }
    }
    return segment_of;
}

void sort_by_date(Plant& plant, std::size_t segment) {
    const auto first = plant.inspection_order.begin() + plant.inspection_begin[segment];
    const auto last = plant.inspection_order.begin() + plant.inspection_begin[segment + 1];
    std::sort(first, last, [&](auto a, auto b) { return goes_before(plant.inspections, a, b); });
}

}  // namespace

SegmentIndex index_segments(const SegmentSheet& segments, const WorkPlan& plan, Report& report) {
    if (segments.torn) return {};
    const auto names = segments.texts(SegmentField::segment);
    SegmentIndex index{names, plan};
    for (const auto& [row, first] : index.doubles()) {
        add_at_cell(report, segments, name_field, row, Severity::error, Problem::duplicate_key,
                    "segment '" + printable(names[row]) + "', which stands already in " +
                        line_text(cell_place(segments, name_field, first)),
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

void link_inspections(Plant& plant, const SegmentIndex& index, DaysChecked days,
                      const WorkPlan& plan, PassedOver* passed_over, Report& report) {
    const std::vector<std::uint32_t> segment_of =
        find_segments(plant, index, days, plan, passed_over, report);
    plant.inspection_begin.assign(plant.segments.rows() + 1, 0);
    for (const std::uint32_t segment : segment_of) {
        if (segment != nowhere) ++plant.inspection_begin[segment + 1];
    }
    std::partial_sum(plant.inspection_begin.begin(), plant.inspection_begin.end(),
                     plant.inspection_begin.begin());
    plant.inspection_order.assign(plant.inspection_begin.back(), 0);
    std::vector<std::uint32_t> next(plant.inspection_begin.begin(),
                                    plant.inspection_begin.end() - 1);
    for (std::size_t row = 0; row < segment_of.size(); ++row) {
        if (segment_of[row] == nowhere) continue;
        plant.inspection_order[next[segment_of[row]]++] = static_cast<std::uint32_t>(row);
    }
    if (plant.inspection_order.empty()) return;
    for_each_block(plant.segments.rows(), plan, [&](std::size_t, RowRange range) {
        for (std::size_t s = range.begin; s < range.end; ++s) sort_by_date(plant, s);
    });
}

}  // namespace lagline
