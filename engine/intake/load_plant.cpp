#include "intake/load_plant.h"

#include "diagnostics/text.h"
#include "intake/columns_yaml.h"
#include "intake/consistency.h"
#include "intake/defaults.h"
#include "intake/doubled_inspections.h"
#include "intake/links.h"
#include "intake/money_yaml.h"
#include "intake/overrides.h"
#include "intake/rank_date.h"
#include "intake/sheet_reader.h"
#include "intake/standard_input.h"
#include "intake/table_files.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

bool is_folder(const fs::path& folder, Report& report) {
    std::error_code error;
    if (fs::is_directory(folder, error)) return true;
    const bool exists = fs::exists(folder, error);
    report.add({.problem = exists ? Problem::not_a_file : Problem::missing_file,
                .where = {folder.string(), 0, 0},
                .subject = "plant folder",
                .found = exists ? "not a folder" : "no such folder",
                .expected = "a folder with plant.yaml and segments.csv",
                .mend = "give the folder, not a file in it; `lagline new DIR` starts one",
                .excerpt = {}});
    return false;
}

// The money of the rule sets is in US dollars, as published.
void check_exchange(const PlantDescription& plant, Report& report) {
    if (plant.currency == "USD" || plant.exchange.contains("USD")) return;
    report.add({.problem = Problem::missing_key,
                .where = plant.place,
                .subject = "exchange",
                .found = "no price of one USD in " + plant.currency,
                .expected = "exchange: {USD: NUMBER}, since the rule tables give money in USD",
                .mend = "add it to plant.yaml",
                .excerpt = {}});
}

const ColumnMap& map_of(const PlantSources& sources, const std::string& name) {
    static const ColumnMap nothing;
    const auto map = sources.maps.find(name);
    return map == sources.maps.end() ? nothing : map->second;
}

template <class SheetType>
void read_if_there(SheetType& sheet, std::optional<SourceText>& source, const std::string& name,
                   const PlantSources& sources, const RuleSet& rules, const PlantMoney& money,
                   const WorkPlan& plan, Report& report) {
    if (!source) return;
    const SheetContext context{rules, map_of(sources, name), money, plan, sources.in_parts};
    read_sheet(sheet, std::move(*source), context, report);
}

}  // namespace

LoadedPlant assemble_plant(PlantSources sources, const RuleSet& rules, const LoadOptions& options,
                           Report report) {
    Plant plant;
    plant.folder = sources.folder;
    plant.description = sources.file.description;
    check_exchange(plant.description, report);
    std::optional<PassedOver> passed_over;
    if (sources.in_parts) passed_over.emplace();
    PassedOver* const elsewhere = passed_over ? &*passed_over : nullptr;
    const PlantMoney money{plant.description.currency, plant.description.exchange,
                           sources.file.currency_known};
    const auto read = [&](auto& sheet, std::optional<SourceText>& source, const std::string& name) {
        read_if_there(sheet, source, name, sources, rules, money, options.plan, report);
    };
    read(plant.segments, sources.segments, "segments.csv");
    read(plant.inspections, sources.inspections, "inspections.csv");
    read(plant.turnarounds, sources.turnarounds, "turnarounds.csv");
    read(plant.overrides, sources.overrides, "overrides.csv");
    plant.today = options.today;
    plant.ranked_at = find_rank_date(plant, options.at, options.today, report);
    const SegmentIndex index = index_segments(plant.segments, options.plan, report);
    const SheetContext segments{rules, map_of(sources, "segments.csv"), money, options.plan};
    apply_overrides(plant, index, segments, elsewhere, report);
    if (options.forget) options.forget(plant);
    fill_defaults(plant, sources.file.defaults, segments, report);
    link_inspections(plant, index, options.days, options.plan, elsewhere, report);
    count_doubled_once(plant, options.plan, report);
    check_consistency(plant, rules, options.days, options.plan, report);
    // Another part may hold the segments of a unit.
    if (!sources.in_parts) check_outage_units(plant, report);
    LoadedPlant loaded{std::nullopt, std::move(report), passed_over};
    if (loaded.report.ok()) loaded.plant = std::move(plant);
    return loaded;
}

std::optional<PlantSources> read_plant_sources(const fs::path& folder, const RuleSet& rules,
                                               Report& report, const LoadOptions& options) {
    if (!is_folder(folder, report)) return std::nullopt;
    PlantSources sources;
    sources.folder = folder.string();
    sources.file = read_plant_yaml(folder / "plant.yaml", report);
    std::error_code ignored;
    if (fs::exists(folder / "columns.yaml", ignored)) {
        sources.maps = read_columns_yaml(folder / "columns.yaml", rules, report);
    }
    TableFiles tables{folder, report, options.plan};
    sources.in_parts = options.segments_from.has_value();
    if (options.segments_from) {
        sources.segments = read_descriptor(*options.segments_from, "<stdin>", report);
        tables.leave_out("segments");
    } else {
        sources.segments = tables.read("segments", true);
    }
    sources.inspections = tables.read("inspections", false);
    sources.turnarounds = tables.read("turnarounds", false);
    sources.overrides = tables.read("overrides", false);
    tables.report_unread();
    return sources;
}

LoadedPlant load_plant(const fs::path& folder, const RuleSet& rules, const LoadOptions& options) {
    Report report;
    auto sources = read_plant_sources(folder, rules, report, options);
    if (!sources) return {std::nullopt, std::move(report)};
    return assemble_plant(std::move(*sources), rules, options, std::move(report));
}

}  // namespace lagline
