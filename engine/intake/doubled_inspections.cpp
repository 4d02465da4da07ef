#include "intake/doubled_inspections.h"

#include <algorithm>
#include <mutex>
#include <vector>

#include "diagnostics/text.h"
#include "intake/cell_place.h"
#include "intake/inspection_order.h"

namespace lagline {
namespace {

struct Doubled {
    std::uint32_t row = 0;
    std::uint32_t first = 0;  ///< the row that it repeats
};

std::vector<Doubled> find_doubled(const Plant& plant, const WorkPlan& plan) {
    std::vector<Doubled> all;
    std::mutex mutex;
    const auto days = plant.inspections.days(InspectionField::date);
    for_each_block(plant.segments.rows(), plan, [&](std::size_t, RowRange range) {
        for (std::size_t s = range.begin; s < range.end; ++s) {
            for (std::uint32_t i = plant.inspection_begin[s]; i + 1 < plant.inspection_begin[s + 1];
                 ++i) {
                const std::uint32_t row = plant.inspection_order[i];
                const std::uint32_t next = plant.inspection_order[i + 1];
                if (days[row] != days[next]) continue;
                if (!is_same_inspection(plant.inspections, row, next)) continue;
                const std::lock_guard lock{mutex};
                all.push_back({next, row});
            }
        }
    });
    std::ranges::sort(all, {}, &Doubled::row);
    return all;
}

void take_out(Plant& plant, const std::vector<Doubled>& doubled) {
    const auto is_doubled = [&](std::uint32_t row) {
        return std::ranges::binary_search(doubled, row, {}, &Doubled::row);
    };
    std::uint32_t kept = 0;
    for (std::size_t s = 0; s + 1 < plant.inspection_begin.size(); ++s) {
        const std::uint32_t begin = plant.inspection_begin[s];
        plant.inspection_begin[s] = kept;
        for (std::uint32_t i = begin; i < plant.inspection_begin[s + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            if (!is_doubled(row)) plant.inspection_order[kept++] = row;
        }
    }
    plant.inspection_begin.back() = kept;
    plant.inspection_order.resize(kept);
}

}  // namespace

void count_doubled_once(Plant& plant, const WorkPlan& plan, Report& report) {
    if (plant.inspection_order.empty()) return;
    const std::vector<Doubled> doubled = find_doubled(plant, plan);
    if (doubled.empty()) return;
    take_out(plant, doubled);
    constexpr auto name = index_of(InspectionField::segment);
    const InspectionSheet& sheet = plant.inspections;
    for (const Doubled& each : doubled) {
        const std::string segment = printable(sheet.texts(InspectionField::segment)[each.row]);
        add_at_cell(report, sheet, name, each.row, Severity::warning, Problem::duplicate_key,
                    "an inspection of " + segment + " that stands already in " +
                        line_text(cell_place(sheet, name, each.first)) + ", the same in every cell",
                    "each inspection once",
                    "remove one of the two rows; counted once, so the rank of " + segment +
                        " goes without this one");
    }
}

}  // namespace lagline
