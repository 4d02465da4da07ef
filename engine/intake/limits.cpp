#include "intake/limits.h"

#include <array>

namespace lagline {
namespace {

constexpr std::array needs{
    TableNeed{.name = "metal_temperature_most",
              .kind = TableKind::lookup,
              .dimension = Dimension::temperature,
              .by = "material"},
    TableNeed{.name = "wall_over_schedule_most", .kind = TableKind::value},
    TableNeed{.name = "diameter_deviation_flagged", .kind = TableKind::value},
    TableNeed{.name = "diameter_deviation_most", .kind = TableKind::value},
    TableNeed{.name = "pit_over_wall_most", .kind = TableKind::value},
    TableNeed{.name = "wall_over_nominal_flagged", .kind = TableKind::value},
    TableNeed{
        .name = "before_service_flagged", .kind = TableKind::value, .dimension = Dimension::time},
    TableNeed{
        .name = "before_service_most", .kind = TableKind::value, .dimension = Dimension::time},
};

std::optional<double> implied_cycle_step(const RuleSet& rules) {
    const auto step = rules.values.find("implied_cycle_step");
    if (step == rules.values.end()) return std::nullopt;
    return step->second.value();
}

}  // namespace

std::span<const TableNeed> limit_needs() { return needs; }

Limits limits_of(const RuleSet& rules) {
    return {&rules.lookup("metal_temperature_most"),
            rules.value("wall_over_schedule_most").value(),
            rules.value("diameter_deviation_flagged").value(),
            rules.value("diameter_deviation_most").value(),
            rules.value("pit_over_wall_most").value(),
            rules.value("wall_over_nominal_flagged").value(),
            rules.value("before_service_flagged").value(),
            rules.value("before_service_most").value(),
            rules.vocabulary("service").code("cyclic"),
            implied_cycle_step(rules),
            chooses(rules, "temperature_model", "service_cycle")};
}

}  // namespace lagline
