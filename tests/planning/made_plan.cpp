#include "made_plan.h"

#include <filesystem>
#include <stdexcept>

#include "intake/load_plant.h"
#include "ranking/outlook.h"
#include "support/rules.h"

namespace lagline {

Cells window_cells(std::string_view name, std::string_view start, std::string_view end,
                   const Cells& changes) {
    Cells cells{{"name", std::string{name}},
                {"kind", "turnaround"},
                {"start", std::string{start}},
                {"end", std::string{end}}};
    for (const auto& [key, text] : changes) cells[key] = text;
    return cells;
}

Climate mild_climate() {
    Climate climate;
    climate.mean_temperature_degc = {4, 4, 6, 9, 13, 15, 17, 17, 15, 12, 8, 5};
    climate.relative_humidity_percent.fill(75.0);
    climate.rainfall_mm.fill(60.0);
    return climate;
}

// A search that ends for want of time depends on the machine.  No plan of this size takes that
// long; a busy machine or the thread sanitizer may take more than the 60 s of the command.
constexpr double no_hurry_s = 3600.0;

PlanOptions without_curve() {
    PlanOptions options;
    options.time_limit_s = no_hurry_s;
    options.sweep_points = 0;
    options.gap = 0.0;
    return options;
}

Planned planned(const Plant& plant, const RuleSet& rules, const PlanOptions& options,
                const WorkPlan& work) {
    Ranking ranking = rank_with_outlook(plant, rules, 0, work);
    Plan plan = make_plan(plant, rules, ranking, options, work);
    return {std::move(ranking), std::move(plan)};
}

const SamplePlan& sample_plan() {
    static const SamplePlan made = [] {
        const RuleSet& rules = extended_rules();
        const auto folder = rules_root().parent_path() / "sample-plant" / "plant";
        LoadedPlant loaded = load_plant(
            folder, rules, {.at = std::nullopt, .today = make_date(2026, 11, 25), .plan = {}});
        if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
        PlanOptions options;
        options.sweep_points = 5;
        options.gap = sample_gap;
        options.time_limit_s = no_hurry_s;
        Planned plan = planned(*loaded.plant, rules, options);
        return SamplePlan{std::move(*loaded.plant), std::move(plan)};
    }();
    return made;
}

}  // namespace lagline
