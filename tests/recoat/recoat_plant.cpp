#include "recoat/recoat_plant.h"

namespace lagline {
namespace {

Plant plant_of(const RecoatPlant::Made& made) {
    PlantDescription description;
    description.name = "Recoat";
    description.climate = made.climate;
    description.unit_costs = made.unit_costs;
    return assemble({.segments = {segment_cells("S-1", made.cells)}, .description = description},
                    made.rules);
}

}  // namespace

Climate months_of(double air_degc, double humidity_percent) {
    Climate climate;
    climate.mean_temperature_degc.fill(air_degc);
    climate.relative_humidity_percent.fill(humidity_percent);
    climate.rainfall_mm.fill(50.0);
    return climate;
}

RecoatPlant::RecoatPlant(const Made& made)
    : rules(made.rules),
      plant(plant_of(made)),
      ranking(rank(plant, rules)),
      planner(plant, rules),
      service(segment_service(plant, ranking, 0)) {}

RecoatOption RecoatPlant::option(std::string_view system, WorkState state) const {
    return planner.option(0, service, state, code_of(rules, "coating_system", system));
}

std::vector<RecoatOption> RecoatPlant::options(WorkState state) const {
    std::vector<RecoatOption> all;
    planner.options(0, service, state, all);
    return all;
}

std::string RecoatPlant::reason(std::string_view system, WorkState state) const {
    return planner.reason(option(system, state));
}

SegmentSurface RecoatPlant::surface() const {
    return segment_surface(plant, planner.surface_rules(), 0);
}

NewLife RecoatPlant::new_life(std::string_view system, std::string_view preparation) const {
    return planner.new_life(0, service, code_of(rules, "coating_system", system),
                            code_of(rules, "surface_preparation", preparation));
}

Cells held_at_degc(int degc) {
    return {{"operating_temperature", std::to_string(degc) + " degC"}, {"service", "continuous"}};
}

}  // namespace lagline
