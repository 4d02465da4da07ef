#include "planning/take_off.h"

#include <cmath>

#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double mm_per_m = 1e3;

// Words of task_measure.
enum class Measure : std::uint8_t { length, steel_area, jacket_area, weld_inch };

constexpr TableNeed one_length(std::string_view name) {
    return {.name = name, .kind = TableKind::value, .dimension = Dimension::length};
}
constexpr TableNeed one_work(std::string_view name) {
    return {.name = name, .kind = TableKind::value, .dimension = Dimension::work};
}

constexpr std::array needs{
    TableNeed{.name = "action_extent",
              .kind = TableKind::grid,
              .by = "work_action",
              .columns = "work_task"},
    TableNeed{.name = "task_measure_of",
              .kind = TableKind::lookup,
              .by = "work_task",
              .gives = "task_measure"},
    TableNeed{.name = "task_craft", .kind = TableKind::lookup, .by = "work_task", .gives = "craft"},
    TableNeed{.name = "task_hours",
              .kind = TableKind::lookup,
              .dimension = Dimension::work,
              .by = "work_task"},
    TableNeed{.name = "small_bore_factor", .kind = TableKind::bands, .axis = "nominal_size"},
    one_length("spool_length"),
    one_length("scaffold_from"),
    one_work("scaffold_fixed"),
    one_work("scaffold_per_metre"),
    TableNeed{.name = "opened_share", .kind = TableKind::value},
};

/// Extents of the tasks of one action on one segment, and what they come to.
class Counter {
  public:
    Counter(const TakeOffRules& rules, double nps, const SegmentSurface& surface, WorkAction action,
            double opened)
        : rules_(rules),
          nps_(nps),
          surface_(surface),
          action_(static_cast<std::uint8_t>(action)),
          share_(action == WorkAction::open_part ? opened : 1.0) {}

    [[nodiscard]] double extent(WorkTask task) const {
        return rules_.extent->at(action_, static_cast<std::uint8_t>(task)).value * share_;
    }

    // A run has a weld at each end and one between each two spools; a fitting has two.
    [[nodiscard]] double welds() const {
        const double spools = std::ceil(surface_.length_m / rules_.spool_m);
        return spools + 1.0 + 2.0 * surface_.fittings;
    }

    [[nodiscard]] double hours(WorkTask task) const {
        const auto code = static_cast<std::uint8_t>(task);
        const double each = rules_.hours->value(code) * extent(task);
        const double area_factor = rules_.size_factor->find(0, nps_).value;
        switch (static_cast<Measure>(rules_.measure->code(code))) {
            case Measure::length:
                return each * surface_.equivalent_m;
            case Measure::steel_area:
                return each * surface_.steel_m2 * area_factor;
            case Measure::jacket_area:
                return each * surface_.jacket_m2 * area_factor;
            case Measure::weld_inch:
                return each * welds() * nps_;
        }
        return 0.0;
    }

  private:
    const TakeOffRules& rules_;
    double nps_;
    const SegmentSurface& surface_;
    std::uint8_t action_;
    double share_;
};

}  // namespace

std::span<const TableNeed> take_off_needs() { return needs; }

TakeOffRules take_off_rules(const RuleSet& rules) {
    TakeOffRules taken;
    taken.extent = &rules.grid("action_extent");
    taken.hours = &rules.lookup("task_hours");
    taken.craft = &rules.lookup("task_craft");
    taken.measure = &rules.lookup("task_measure_of");
    taken.size_factor = &rules.band("small_bore_factor");
    taken.scaffold_from_m = rules.value("scaffold_from").value() / mm_per_m;
    taken.scaffold_fixed_hours = rules.value("scaffold_fixed").value();
    taken.scaffold_hours_per_m = rules.value("scaffold_per_metre").value();
    taken.spool_m = rules.value("spool_length").value() / mm_per_m;
    taken.opened_share = rules.value("opened_share").value();
    return taken;
}

double scaffold_hours(const TakeOffRules& rules, double elevation_m) {
    if (elevation_m <= rules.scaffold_from_m) return 0.0;
    return rules.scaffold_fixed_hours + rules.scaffold_hours_per_m * elevation_m;
}

TakeOff take_off(const Plant& plant, const TakeOffRules& rules, std::uint32_t segment,
                 const SegmentSurface& surface, WorkAction action, const RecoatOption* coating,
                 double opened) {
    const double nps = pipe_sizes()[plant.segments.codes(S::nominal_size)[segment]].nps_inches;
    const Counter count{rules, nps, surface, action, opened < 0.0 ? rules.opened_share : opened};
    TakeOff found;
    found.stripped_m = count.extent(WorkTask::strip) * surface.equivalent_m;
    found.inspected_m2 = count.extent(WorkTask::look) * surface.steel_m2;
    found.insulated_m = count.extent(WorkTask::insulate) * surface.equivalent_m;
    found.jacket_m2 = count.extent(WorkTask::insulate) * surface.jacket_m2;
    found.pipe_m = count.extent(WorkTask::cut_and_weld) * surface.length_m;
    for (std::size_t task = 0; task < work_tasks; ++task) {
        const auto code = static_cast<std::uint8_t>(task);
        found.hours[rules.craft->code(code)] += count.hours(static_cast<WorkTask>(task));
    }
    if (coating != nullptr) {
        const double share = count.extent(WorkTask::coat);
        found.coated_m2 = share * surface.steel_m2;
        for (std::size_t coat = 0; coat < most_coats; ++coat) {
            found.material[coat] = share * coating->material[coat];
        }
        const std::uint8_t craft = rules.craft->code(static_cast<std::uint8_t>(WorkTask::coat));
        found.hours[craft] +=
            found.coated_m2 * coating->coating_hours_per_m2 * rules.size_factor->find(0, nps).value;
    }
    found.hours[static_cast<std::size_t>(Craft::scaffold)] +=
        scaffold_hours(rules, surface.elevation_m);
    return found;
}

}  // namespace lagline
