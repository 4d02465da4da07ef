#include "learning/made_backtest.h"

#include <stdexcept>

#include "intake/plant_yaml.h"
#include "intake/source_file.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {

PlantSources sources_of(const SyntheticPlant& plant) {
    const TempFolder folder;
    const auto yaml = folder.write("plant.yaml", plant.plant_yaml);
    Report report;
    PlantSources sources;
    sources.file = read_plant_yaml(yaml, report);
    sources.segments = source_from_text(plant.segments_csv, "segments.csv", report);
    sources.inspections = source_from_text(plant.inspections_csv, "inspections.csv", report);
    if (!report.ok()) throw std::runtime_error(to_text(report));
    return sources;
}

Plant read_at(const PlantSources& sources, const RuleSet& rules, Date at) {
    LoadedPlant loaded = assemble_plant(sources, rules, {at, at, {}}, {});
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

Backtest backtest_of_seed(std::uint64_t seed, std::size_t segments, const std::string& name) {
    const RuleSet rules = rules_from(rules_root(), name);
    const PlantSources sources =
        sources_of(synthesise({.segments = segments, .inspections = 0, .seed = seed}));
    const Plant today = read_at(sources, rules, make_date(2027, 4, 5));
    return backtest(sources, today, rules, {});
}

}  // namespace lagline
