#include "plant_folder.h"

#include <filesystem>
#include <stdexcept>

#include "support/rules.h"

namespace lagline {
namespace {

constexpr std::string_view usual_plant = "name: Invented plant\ncurrency: USD\n";

}  // namespace

std::string segment_row(std::string_view name) {
    return std::string{name} + std::string{one_row.substr(3)};
}

std::string segments(std::string_view headings, std::string_view cells) {
    std::string csv{needed_headings};
    if (!headings.empty()) csv.append(",").append(headings);
    for (const auto* name : {"S-1", "S-2"}) {
        csv += "\n" + segment_row(name);
        if (!headings.empty()) csv.append(",").append(cells);
    }
    return csv + "\n";
}

LoadedPlant load(const Files& files, const LoadChoice& choice, const RuleSet* rules) {
    const TempFolder folder;
    if (!files.contains("plant.yaml")) folder.write("plant.yaml", usual_plant);
    if (!files.contains("segments.csv")) folder.write("segments.csv", segments());
    for (const auto& [name, text] : files) folder.write(name, text);
    const LoadOptions options{
        choice.at, choice.today, {.block_rows = choice.block_rows, .threads = choice.threads}};
    LoadedPlant loaded =
        load_plant(folder.path(), rules == nullptr ? published_rules() : *rules, options);
    loaded.report.sort();
    return loaded;
}

std::string summary(const Report& report) {
    std::string text;
    for (const Diagnostic& each : report.diagnostics()) {
        const Place place{std::filesystem::path{each.where.file}.filename().string(),
                          each.where.line, each.where.column};
        text += std::string{code_of(each.problem)} + " " + to_string(place);
        if (!each.subject.empty()) text += " " + each.subject;
        text += "\n";
    }
    return text;
}

const Diagnostic& only(const LoadedPlant& loaded) {
    if (loaded.report.diagnostics().size() != 1) throw std::runtime_error(to_text(loaded.report));
    return loaded.report.diagnostics().front();
}

bool holds(std::string_view in, std::string_view text) {
    return in.find(text) != std::string_view::npos;
}

}  // namespace lagline
